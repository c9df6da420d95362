//! `proposals`: what phones propose to the register, side by side.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;
use bodies::{PersonId, Proposed};
use tagcode::safe_text;

use super::moments::minute;
use super::opened::Place;
use crate::names::{entry_name, hex};
use crate::people::names;
use crate::proposals::{Line, proposals as list};

pub(super) async fn proposals(place: &Place, all: bool, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let lines = list(&hub, all).await?;
    let names = names(&hub.store).await?;
    for line in &lines {
        write_line(out, line, &names)?;
    }
    if lines.is_empty() {
        writeln!(out, "No proposal waits to be decided.")?;
    } else {
        let open = lines.iter().filter(|line| line.open).count();
        writeln!(
            out,
            "{open} to be decided. Decide with `headmark-hub review NAME accepted|declined --note TEXT --by PERSON`."
        )?;
    }
    Ok(ExitCode::SUCCESS)
}

/// Returns what somebody is called, or the number where no name is here.
pub(super) fn called(person: PersonId, names: &BTreeMap<PersonId, String>) -> String {
    names.get(&person).cloned().unwrap_or_else(|| format!("person {}", hex(&person.0)))
}

fn write_line(out: &mut (dyn Write + Send), line: &Line, names: &BTreeMap<PersonId, String>) -> Result<()> {
    let (tag, what) = (safe_text(&line.proposal.tag), what(line));
    let (by, when) = (called(line.proposal.technician.person, names), minute(line.claimed));
    writeln!(out, "{tag}: {what}")?;
    writeln!(out, "  {}", entry_name(&line.id))?;
    writeln!(out, "  by {by}, {when}, beside {}", safe_text(&line.proposal.register))?;
    for change in &line.changes {
        let [from, to] = [&change.from, &change.to].map(|text| safe_text(text));
        writeln!(out, "  {}: \"{from}\" -> \"{to}\"", change.field)?;
    }
    claims(out, line)?;
    if !line.obstacle.is_empty() {
        writeln!(out, "  Cannot be accepted: {}", line.obstacle)?;
    }
    if let Some(decided) = &line.decided {
        let (word, by, when) =
            (decided.decision.word(), called(decided.person, names), minute(decided.claimed));
        let again = if line.open { "; the register does not say it, so it is open again" } else { "" };
        writeln!(out, "  {word} by {by}, {when}: {}{again}", safe_text(&decided.note))?;
    }
    writeln!(out)?;
    Ok(())
}

fn what(line: &Line) -> String {
    match &line.proposal.what {
        Proposed::Code(code) => format!("the code {} stands on it", safe_text(code)),
        Proposed::Unit(unit) => {
            format!("unit {} is fitted in place of {}", safe_text(&unit.serial), safe_text(&unit.before))
        }
    }
}

/// Says who claims the same.
pub(super) fn claims(out: &mut (dyn Write + Send), line: &Line) -> Result<()> {
    let claimed = match &line.proposal.what {
        Proposed::Code(_) => "code",
        Proposed::Unit(_) => "serial number",
    };
    for holder in &line.holders {
        writeln!(
            out,
            "  CONFLICT: {} holds this {claimed} in the register. Compare both plates.",
            safe_text(holder)
        )?;
    }
    for rival in &line.rivals {
        writeln!(out, "  CONFLICT: another open proposal says something else: {}", entry_name(rival))?;
    }
    Ok(())
}
