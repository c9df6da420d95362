//! `adopt`: a record that counts although its log was revoked or is forked.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result};
use bodies::{Decision, Review};

use super::arguments::Adopt;
use super::opened::{Place, named};
use crate::deciding::review;
use crate::names::read_entry_name;

pub(super) async fn adopt(place: &Place, adopt: &Adopt, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let person = named(&hub, &adopt.by).await?;
    let subject =
        read_entry_name(&adopt.entry).context("A record is named as lists have it: LOG-PLACE-HASH.")?;
    let said = Review { subject, decision: Decision::Adopted, note: adopt.note.clone(), person: person.id };
    review(&hub, &said).await?;
    writeln!(out, "Adopted. The record counts; phones learn of it the next time they send.")?;
    Ok(ExitCode::SUCCESS)
}
