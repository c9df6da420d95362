//! `visits`: the visits, newest first: whether each counts, what working it out again found, and what was decided.

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;
use bodies::Confirmed;
use exchange::trust::Standing;
use hubstore::{Arrival, Found, HubStore, Jobs, TagKey, VisitRow, VisitsAsked};
use record::Claimed;
use tagcode::safe_text;

use super::arguments::ListVisits;
use super::moments::minute;
use super::opened::Place;
use super::proposals::called;
use crate::counting::{self, Counting};
use crate::names::entry_name;
use crate::people::names;
use crate::recompute;
use crate::restoring::restored;
use crate::trusted::Trusted;

/// How many visits are read at once.
const ROWS: u32 = 200;

pub(super) async fn visits(
    place: &Place,
    asked: &ListVisits,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let (trusted, names) = (hub.trusted().await?, names(&hub.store).await?);
    let restored = restored(&hub.store).await?;
    let mut counting = Counting::at(&hub).await?;
    let (mut before, mut shown) = (None, 0);
    loop {
        let (rows, next) = page(&hub.store, asked, before).await?;
        let wanted = |row: &&VisitRow| !asked.undecided || trusted.decided(&row.id).is_none();
        for row in rows.iter().filter(wanted).take(asked.most - shown) {
            let line = &row.line;
            // The list holds no offset; the record does.
            let when = minute(Claimed { millis: line.claimed, offset_minutes: 0 });
            let by = format!("{}, {}", called(line.technician, &names), confirmed(line.confirmed));
            let (standing, found) = (counting.standing(&row.id).await?, hub.store.found(row.id).await?);
            writeln!(
                out,
                "{}  {}  {when}  {by}  {}",
                safe_text(&line.tag),
                safe_text(&line.site),
                line.verdict
            )?;
            writeln!(out, "  {}  {}", entry_name(&row.id), decision(&trusted, row, standing))?;
            writeln!(out, "  {}; {}", counting::said(standing), recompute::said(found.as_ref()))?;
            if let Some(remark) = restored.and_then(|restored| restored.remark(row.arrival)) {
                writeln!(out, "  {remark} Look through them: `headmark-hub phones`.")?;
            }
            shown += 1;
        }
        before = next;
        if shown >= asked.most || before.is_none() {
            break;
        }
    }
    writeln!(
        out,
        "{shown} visits. Decide with `headmark-hub review NAME approved|returned --note TEXT --by PERSON`."
    )?;
    let waiting = hub.store.tally().await?.waiting;
    if waiting > 0 {
        writeln!(out, "{waiting} visits wait to be worked out again; `headmark-hub serve` does it.")?;
    }
    Ok(ExitCode::SUCCESS)
}

/// Returns some visits, newest first, and before which one to go on; none at the end.
async fn page(
    store: &impl HubStore,
    asked: &ListVisits,
    before: Option<Arrival>,
) -> Result<(Vec<VisitRow>, Option<Arrival>)> {
    let of =
        |before, most| VisitsAsked { tag: asked.tag.as_deref().map(TagKey::of), site: None, before, most };
    if !asked.differs {
        let rows = store.visits(&of(before, ROWS)).await?;
        let next = rows.last().map(|row| row.arrival);
        return Ok((rows, next));
    }
    let found = store.findings(Found::Differs(String::new()).word(), before, ROWS).await?;
    let mut rows = Vec::new();
    for one in &found {
        let there = store.visits(&of(Some(Arrival(one.arrival.0 + 1)), 1)).await?;
        rows.extend(there.into_iter().filter(|row| row.id == one.id));
    }
    Ok((rows, found.last().map(|one| one.arrival)))
}

/// How the phone knew who signs.
fn confirmed(how: Confirmed) -> &'static str {
    match how {
        Confirmed::Unlocked => "confirmed by the phone's lock",
        Confirmed::Pin => "confirmed by PIN",
        Confirmed::None => "not confirmed",
    }
}

fn decision(trusted: &Trusted, row: &VisitRow, standing: Standing) -> String {
    match trusted.decided(&row.id) {
        None if standing.counts() => "to be looked at".to_owned(),
        None => "not decided; it cannot be approved before it counts".to_owned(),
        Some(decided) if decided.note.is_empty() => decided.decision.word().to_owned(),
        Some(decided) => format!("{}: {}", decided.decision.word(), safe_text(&decided.note)),
    }
}
