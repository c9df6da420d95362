//! `changes`: what people changed at the hub itself, newest first.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;
use bodies::{ChangeMade, Import, PersonChange, PersonId, Table};
use exchange::trust::Standing;

use super::moments::minute;
use super::opened::Place;
use super::proposals::called;
use crate::changes::{Line, changes as list};
use crate::names::hex;
use crate::people::names;

pub(super) async fn changes(place: &Place, most: usize, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let names = names(&hub.store).await?;
    let lines = list(&hub, None, most).await?;
    for line in &lines {
        write_line(out, line, &names)?;
    }
    if lines.is_empty() {
        writeln!(out, "Nothing was changed at this hub yet.")?;
    } else {
        writeln!(
            out,
            "{} changes. Who has no name any more, or none here, is shown by number.",
            lines.len()
        )?;
    }
    Ok(ExitCode::SUCCESS)
}

fn write_line(out: &mut (dyn Write + Send), line: &Line, names: &BTreeMap<PersonId, String>) -> Result<()> {
    let by = line.change.by.map_or_else(|| "at the machine".to_owned(), |by| called(by, names));
    writeln!(out, "{}  {by}: {}", minute(line.claimed), said(&line.change.made, names))?;
    if let ChangeMade::Imported(import) = &line.change.made {
        writeln!(out, "  SHA-256 of the file: {}", hex(&import.file.0))?;
    }
    match line.standing {
        stands if stands.counts() => {}
        Standing::Forked => {
            writeln!(out, "  In doubt: the log of the hub that said so is forked from there or before.")?
        }
        _ => writeln!(out, "  Counts in nothing: the key of the hub that said so was revoked before it.")?,
    }
    Ok(())
}

fn said(made: &ChangeMade, names: &BTreeMap<PersonId, String>) -> String {
    match made {
        ChangeMade::Imported(import) => imported(import),
        ChangeMade::Person(person, change) => format!("{} {}", called(*person, names), changed(*change)),
        ChangeMade::PhoneConfirmed(phone) => format!("phone {} was confirmed", hex(&phone.0)),
        ChangeMade::PhonesLookedThrough => {
            "the phones were looked through after the hub was restored".to_owned()
        }
    }
}

fn imported(Import { table, before, after, rows, .. }: &Import) -> String {
    let (rows, moved) = match table {
        Table::Instruments => (rows, format!(", {} went to another area", rows.moved)),
        Table::Sensors => (rows, String::new()),
    };
    format!(
        "{} came from a file: {} new, {} changed{moved}, {} taken out; number {before} to {after}",
        table.word(),
        rows.added,
        rows.changed,
        rows.removed
    )
}

fn changed(change: PersonChange) -> String {
    match change {
        PersonChange::Added { role, signs_in } => {
            let how = if signs_in { "signs in" } else { "does not sign in" };
            format!("was written down: {}, {how}", role.word())
        }
        PersonChange::Renamed => "was given another name".to_owned(),
        PersonChange::Erased => "was erased".to_owned(),
        PersonChange::Role(role) => format!("was given the role {}", role.word()),
        PersonChange::Password => "was given another password".to_owned(),
        PersonChange::NoSignIn => "signs in no more".to_owned(),
    }
}
