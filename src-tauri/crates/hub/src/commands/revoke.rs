//! `revoke`: a phone that is lost, or was not honest.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use bodies::LastTrusted;
use hubstore::HubStore;
use record::{LogId, Seq};

use super::arguments::Revoke;
use super::opened::{Place, named};
use crate::deciding;
use crate::names::{read_entry_name, unhex};

pub(super) async fn revoke(place: &Place, asked: &Revoke, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let person = named(&hub, &asked.by).await?;
    let log = unhex(&asked.log)
        .map(LogId)
        .context("A log is named by 64 small hexadecimal digits; `headmark-hub phones` lists them.")?;
    let last = last(&hub.store, log, &asked.last).await?;
    deciding::revoke(&hub, log, last, &asked.reason, person.id).await?;
    writeln!(
        out,
        "Revoked. What it signed after place {} is kept and counts in nothing until somebody adopts it by its name.",
        last.map_or(0, |last| last.seq.get())
    )?;
    Ok(ExitCode::SUCCESS)
}

/// The payload at a place, or of a record that is named; of a place alone a fork leaves it open which one is meant.
pub(super) async fn last(store: &impl HubStore, log: LogId, asked: &str) -> Result<Option<LastTrusted>> {
    let (place, named) = match asked.parse::<u64>() {
        Ok(place) => (place, None),
        Err(_) => {
            let named = read_entry_name(asked).context(
                "The last trusted record is named by its place, or as lists have it: LOG-PLACE-HASH.",
            )?;
            ensure!(
                named.log == log,
                "The last trusted record is of another log. Take one of the log that is revoked."
            );
            (named.seq.get(), Some(named.payload))
        }
    };
    let Some(seq) = Seq::new(place) else { return Ok(None) };
    let mut there = store.links(log, seq, seq).await?;
    there.retain(|step| named.is_none_or(|named| named == step.hash));
    match there.as_slice() {
        [there] => Ok(Some(LastTrusted { seq, payload: there.hash })),
        [] => {
            anyhow::bail!("Nothing of this log is held there. Name a place that `headmark-hub status` shows.")
        }
        _ => anyhow::bail!(
            "The log is forked at that place. Name the last honest record itself, as `headmark-hub status` has it: LOG-PLACE-HASH."
        ),
    }
}

/// The newest entry that is held of a log: with it all of it is trusted that is here.
pub(super) async fn newest(store: &impl HubStore, log: LogId) -> Result<Option<LastTrusted>> {
    Ok(store.tip(log).await?.map(|(seq, payload)| LastTrusted { seq, payload }))
}
