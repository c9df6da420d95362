//! `review`: a visit is approved or returned, a proposal accepted or declined.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result};
use bodies::{Decision, Review};

use super::arguments::Decide;
use super::opened::{Place, named};
use super::proposals::claims;
use crate::deciding;
use crate::names::read_entry_name;

pub(super) async fn review(place: &Place, asked: &Decide, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let person = named(&hub, &asked.by).await?;
    let subject =
        read_entry_name(&asked.entry).context("A record is named as lists have it: LOG-PLACE-HASH.")?;
    let decision = Decision::from_word(&asked.decision).filter(|decision| *decision != Decision::Adopted);
    let decision = decision.context(
        "The decision is to be accepted or declined for a proposal, approved or returned for a visit.",
    )?;
    // Who else claims the same is known before the register says it.
    let before = match decision {
        Decision::Accepted => crate::proposals::proposals(&hub, true).await?,
        _ => Vec::new(),
    };
    let said = Review { subject, decision, note: asked.note.clone(), person: person.id };
    deciding::review(&hub, &said).await?;
    writeln!(out, "{}", outcome(decision))?;
    if let Some(line) = before.iter().find(|line| line.id == subject) {
        claims(out, line)?;
    }
    Ok(ExitCode::SUCCESS)
}

fn outcome(decision: Decision) -> &'static str {
    match decision {
        Decision::Accepted => "Accepted. The register says it; phones get it the next time they send.",
        Decision::Declined => "Declined. The phone that proposed it is told why the next time it sends.",
        Decision::Returned => "Returned. The phone that made the visit shows why the next time it sends.",
        Decision::Approved => "Approved. The phone that made the visit is told the next time it sends.",
        Decision::Adopted => "Adopted.",
    }
}
