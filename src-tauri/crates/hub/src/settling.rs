//! What the ledger says and a list does not show yet.
//!
//! The ledger is the truth and the lists are looked things up in. What the hub says itself goes into both in one step;
//! what phones bring back is settled once it is in. A process may be killed between the two, and between the several steps
//! of an enrolment: then it is settled when the hub is opened.

use std::collections::{BTreeMap, BTreeSet};

use ::exchange::trust::Trust;
use bodies::{Certificate, Certified};
use hubstore::{Batch, Device, HubStore, LogRow, NewLog, Standing};
use record::{LogId, Proof, Signer};

use crate::Error;
use crate::home::Hub;

/// Brings the lists of logs and phones in line with the ledger.
///
/// # Errors
///
/// What the store says.
pub async fn settle<S, K, P>(hub: &Hub<S, K, P>) -> Result<(), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let trust = trusted.trust();
    let certified = trust.devices().map(|(log, _)| log);
    let revoked = trust.revocations().map(|(log, _)| log);
    let logs: BTreeSet<LogId> = certified.chain(revoked).collect();
    let rows = hub.store.logs_named(&logs.iter().copied().collect::<Vec<_>>()).await?;
    let devices = hub.store.devices().await?;
    let listed: BTreeMap<LogId, &Device> = devices.iter().map(|device| (device.log, device)).collect();
    for log in logs {
        let shown = Shown { row: rows.get(&log), listed: listed.get(&log).copied() };
        settle_log(&hub.store, trust, log, shown).await?;
    }
    Ok(())
}

/// Brings the lists in line with the ledger for some logs.
///
/// # Errors
///
/// What the store says.
pub async fn settle_logs<S, K, P>(hub: &Hub<S, K, P>, logs: &BTreeSet<LogId>) -> Result<(), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    for log in logs {
        let row = hub.store.log(*log).await?;
        let listed = hub.store.device(*log).await?;
        let shown = Shown { row: row.as_ref(), listed: listed.as_ref() };
        settle_log(&hub.store, trusted.trust(), *log, shown).await?;
    }
    Ok(())
}

/// What the lists show of a log.
struct Shown<'r> {
    row: Option<&'r LogRow>,
    /// Its line among the phones.
    listed: Option<&'r Device>,
}

async fn settle_log(store: &impl HubStore, trust: &Trust, log: LogId, shown: Shown<'_>) -> Result<(), Error> {
    let mut standing = shown.row.map(|row| row.standing).filter(|standing| *standing != Standing::Parked);
    // As the hubs certified it, whoever else says something of its key.
    if let Some(certificate) = trust.device(log) {
        if standing.is_none() {
            let known = vec![NewLog { log, key: certificate.key.cose().to_vec() }];
            store.ingest(Batch { known, ..Batch::default() }).await?;
            standing = Some(Standing::Known);
        }
        if let Some(device) = device(log, certificate).filter(|device| shown.listed != Some(device)) {
            store.put_device(&device).await?;
        }
    }
    let Some((last, before)) = trust.revoked(log).zip(standing) else { return Ok(()) };
    let stands = Standing::Revoked(last.map(|last| (last.seq, last.payload)));
    if before != stands {
        store.set_standing(log, stands).await?;
    }
    Ok(())
}

/// Returns the line of a phone, as its certificate has it.
fn device(log: LogId, certificate: &Certificate) -> Option<Device> {
    let Certified::Device { person, areas } = &certificate.certified else { return None };
    let (label, areas) = (certificate.label.clone(), areas.iter().cloned().collect());
    Some(Device { log, label, person: Some(*person), areas })
}
