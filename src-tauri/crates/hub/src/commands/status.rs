//! `status`: how the hub stands.

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;
use hubstore::{Access, Fork, Jobs, Ledger, Logs, Register, Visits};
use record::EntryId;

use super::opened::Place;
use super::phones::{line, missing};
use crate::counting::{Counting, said};
use crate::names::{entry_name, hex};
use crate::people::names;
use crate::phones::phones;
use crate::restoring::restored;

pub(super) async fn status(place: &Place, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let settings = place.folder.settings()?;
    let hub = place.hub().await?;
    let store = &hub.store;
    writeln!(out, "{} at {}, stored in {}", settings.label, settings.address, store.word())?;
    writeln!(out, "organisation {}", hex(&hub.organisation().log().0))?;
    writeln!(out, "hub log      {}", hex(&hub.identity.log.0))?;
    writeln!(out, "epoch        {}", hex(&hub.identity.epoch.0))?;
    if let Some(restored) = restored(store).await? {
        writeln!(out, "{}. Look through the phones: `headmark-hub phones`.", missing(&restored))?;
    }
    writeln!(out, "{} visits, newest record {}", store.visit_count().await?, store.newest().await?.0)?;
    let tally = store.tally().await?;
    let found: Vec<String> = tally.done.iter().map(|(word, count)| format!("{word} {count}")).collect();
    writeln!(out, "worked out again: {}; {} wait", found.join(", "), tally.waiting)?;
    if tally.done.contains_key("differs") {
        writeln!(out, "  `headmark-hub visits --differs` lists those that came out otherwise")?;
    }
    for (area, version) in store.areas().await? {
        writeln!(out, "register area \"{area}\" at version {}", version.0)?;
    }
    let trusted = hub.trusted().await?;
    for (log, _) in trusted.trust().hubs().filter(|(log, _)| *log != hub.identity.log) {
        let stands = match trusted.trust().revoked(log) {
            None => "STILL TRUSTED; put it away with `headmark-hub key revoke` once every phone has sent"
                .to_owned(),
            Some(last) => format!("revoked behind place {}", last.map_or(0, |last| last.seq.get())),
        };
        writeln!(out, "former hub {}: {stands}", hex(&log.0))?;
    }
    let names = names(store).await?;
    for phone in phones(&hub).await? {
        writeln!(out, "{}", line(&phone, &names))?;
    }
    for waiting in store.enrolments().await? {
        writeln!(out, "waits to be confirmed: \"{}\", digits {}", waiting.label, waiting.digits)?;
    }
    for parked in store.parked().await? {
        writeln!(out, "parked: {} records of unknown log {}", parked.entries, hex(&parked.log.0))?;
    }
    let mut counting = Counting::at(&hub).await?;
    for Fork { log, seq, payloads } in store.forks().await? {
        writeln!(out, "FORK: log {} at place {seq}", hex(&log.0))?;
        for payload in payloads {
            let id = EntryId { log, seq, payload };
            writeln!(out, "  {}  {}", entry_name(&id), said(counting.standing(&id).await?))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
