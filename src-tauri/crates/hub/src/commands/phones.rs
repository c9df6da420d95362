//! `phones`: the phones that are enrolled, and whether they were looked through since a restore.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result};
use bodies::PersonId;
use record::Claimed;
use tagcode::safe_text;

use super::arguments::ListPhones;
use super::moments::minute;
use super::opened::{Place, named};
use super::proposals::called;
use crate::Store;
use crate::home::Hub;
use crate::names::hex;
use crate::people::names;
use crate::phones::{Phone, phones as list};
use crate::restoring::{Restored, looked_through, restored};

pub(super) async fn phones(
    place: &Place,
    asked: &ListPhones,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let hub = place.hub().await?;
    if asked.looked_through {
        let by = asked.by.as_deref().context("Say who looked through the phones, with --by NAME.")?;
        looked_through(&hub, named(&hub, by).await?.id).await?;
        writeln!(out, "Written down. Visits that came in since the restore are marked no more.")?;
        return Ok(ExitCode::SUCCESS);
    }
    show(&hub, out).await?;
    match restored(&hub.store).await? {
        Some(restored) => to_be_done(&restored, out)?,
        None => writeln!(
            out,
            "Revoke one that is lost with `headmark-hub revoke LOG --last PLACE --reason TEXT --by NAME`."
        )?,
    }
    Ok(ExitCode::SUCCESS)
}

/// Lists the phones.
pub(super) async fn show(hub: &Hub<Store>, out: &mut (dyn Write + Send)) -> Result<()> {
    let (phones, names) = (list(hub).await?, names(&hub.store).await?);
    for phone in &phones {
        writeln!(out, "{}", line(phone, &names))?;
    }
    if phones.is_empty() {
        writeln!(out, "No phone is enrolled here.")?;
    }
    Ok(())
}

/// A phone in one line.
pub(super) fn line(phone: &Phone, names: &BTreeMap<PersonId, String>) -> String {
    let device = &phone.device;
    let of = device.person.map(|person| format!(" of {}", called(person, names))).unwrap_or_default();
    let revoked = phone.revoked.map(|last| format!(", REVOKED behind place {last}")).unwrap_or_default();
    format!(
        "phone {} \"{}\"{of}, up to place {}{revoked}",
        hex(&device.log.0),
        safe_text(&device.label),
        phone.upto
    )
}

/// Says what may be missing since a restore.
pub(super) fn missing(restored: &Restored) -> String {
    let since = minute(Claimed { millis: restored.since, offset_minutes: 0 });
    format!("RESTORED: revocations since {since} may be missing")
}

/// Says what is to be done after a restore.
pub(super) fn to_be_done(restored: &Restored, out: &mut (dyn Write + Send)) -> Result<()> {
    writeln!(out, "{}, until a phone that heard of them has sent.", missing(restored))?;
    writeln!(
        out,
        "Look through the phones, and revoke anew which were revoked since: `headmark-hub revoke LOG --last PLACE --reason"
    )?;
    writeln!(
        out,
        "TEXT --by NAME`. Then say so: `headmark-hub phones --looked-through --by NAME`. Until then visits that come in are"
    )?;
    writeln!(out, "taken as ever, and marked.")?;
    Ok(())
}
