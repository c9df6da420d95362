//! From what was asked to what is written and told.

use std::collections::BTreeSet;
use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use hubstore::StoredEntry;
use record::{LogId, PublicKey, write_export};

use super::chosen::{Chosen, Lacking};
use super::files::{Files, Whole, left_over};
use super::needs::{Needs, key};
use crate::Store;
use crate::commands::arguments::Export;
use crate::commands::opened::Place;
use crate::home::Hub;
use crate::names::unhex;

const NOTHING: &str = "No record is of this choice. Check tag or log; `headmark-hub status` lists logs.";

pub(crate) async fn export(place: &Place, asked: &Export, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let log = asked
        .log
        .as_deref()
        .map(|log| unhex(log).map(LogId).context("A log is named by 64 small hexadecimal digits."));
    let (chosen, lacking) = Chosen::of(&hub.store, asked.tag.as_deref(), log.transpose()?).await?;
    if asked.file.extension().is_some_and(|end| end == "headmark") {
        one_log(&hub, chosen, asked, out).await?;
    } else {
        bundles(&hub, chosen, asked, out).await?;
    }
    told(lacking, out)?;
    Ok(ExitCode::SUCCESS)
}

fn told(lacking: Lacking, out: &mut (dyn Write + Send)) -> Result<()> {
    let Lacking { cited, unread } = lacking;
    if cited > 0 {
        writeln!(
            out,
            "{cited} observations that these visits cite are not in it: no phone has brought them yet, or they are of another log."
        )?;
    }
    if unread > 0 {
        writeln!(
            out,
            "{unread} visits are of a form that this version cannot read; what they cite is not in it. Update the hub for that."
        )?;
    }
    Ok(())
}

async fn bundles(
    hub: &Hub<Store>,
    mut chosen: Chosen,
    asked: &Export,
    out: &mut (dyn Write + Send),
) -> Result<()> {
    let needs = Needs::of(hub).await?;
    let mut files = Files::at(&asked.file, usize::from(asked.most) << 20);
    let (mut records, mut logs) = (0_usize, BTreeSet::new());
    loop {
        let entries = chosen.next(&hub.store).await?;
        if entries.is_empty() {
            break;
        }
        for entry in entries {
            files.put(&hub.store, &needs, &entry).await?;
            logs.insert(entry.id.log);
            records += 1;
        }
    }
    ensure!(records > 0, NOTHING);
    let whole = files.end()?;
    match whole.as_slice() {
        [one] => writeln!(
            out,
            "{records} records of {} logs are in {}, with the keys and certificates that vouch for them. Prove it anywhere with `headmark-hub verify`.",
            logs.len(),
            one.path.display()
        )?,
        several => told_of_several(several, (records, logs.len()), asked, out)?,
    }
    for path in left_over(&asked.file, &whole) {
        writeln!(out, "{} lies there from before and is not of this export. Take it away.", path.display())?;
    }
    Ok(())
}

fn told_of_several(
    several: &[Whole],
    (records, logs): (usize, usize),
    asked: &Export,
    out: &mut (dyn Write + Send),
) -> Result<()> {
    for Whole { path, records } in several {
        writeln!(out, "{}: {records} records", path.display())?;
    }
    writeln!(
        out,
        "{records} records of {logs} logs are in these {} files: in one they would unpack to more than {} MiB. Keep all of them. Each proves by itself with `headmark-hub verify`, and can be taken in by itself, in any order; keys and certificates stand in each that needs them.",
        several.len(),
        asked.most
    )?;
    Ok(())
}

/// Writes one log as an export, which is proved as a whole before it is written.
async fn one_log(
    hub: &Hub<Store>,
    mut chosen: Chosen,
    asked: &Export,
    out: &mut (dyn Write + Send),
) -> Result<()> {
    let mut entries: Vec<StoredEntry> = Vec::new();
    loop {
        let more = chosen.next(&hub.store).await?;
        if more.is_empty() {
            break;
        }
        let log = entries.first().or(more.first()).map(|entry| entry.id.log);
        ensure!(
            more.iter().all(|entry| Some(entry.id.log) == log),
            "These records are of several logs, and an export (.headmark) holds one. Name one with --log, or write a bundle (.bundle)."
        );
        entries.extend(more);
    }
    let log = entries.first().context(NOTHING)?.id.log;
    entries.sort_by_key(|entry| entry.id.seq);
    let forked = entries.iter().zip(entries.iter().skip(1)).any(|(one, next)| one.id.seq == next.id.seq);
    ensure!(
        !forked,
        "This log is forked, and an export (.headmark) holds one branch. Write a bundle (.bundle), which holds all."
    );
    let key = PublicKey::from_cose(&key(&hub.store, log).await?)?;
    let bytes = write_export(&key, entries.iter().map(|entry| entry.bytes.as_slice()))?;
    std::fs::write(&asked.file, &bytes).with_context(|| {
        format!("{} could not be written. Check that the disk has space.", asked.file.display())
    })?;
    writeln!(
        out,
        "{} records of 1 logs are in {}. Prove it anywhere with `headmark-hub verify`.",
        entries.len(),
        asked.file.display()
    )?;
    Ok(())
}
