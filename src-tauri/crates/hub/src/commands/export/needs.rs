//! What a file needs to prove by itself, with nothing known but the organisation's fingerprint: the keys of the logs in it,
//! and what the organisation and its hubs said of those keys.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context, Result};
use bodies::{CERTIFICATE, REVOCATION, Revocation};
use exchange::trust::Trust;
use hubstore::{Filter, HubStore, Logs, Reading, StoredEntry};
use record::{Kind, LogId};

use crate::Store;
use crate::home::Hub;
use crate::trusted::{arrived, certificate};

/// The kinds of records that vouch for a log, or say that it is trusted no more.
pub(super) const VOUCHING: [Kind; 2] = [CERTIFICATE, REVOCATION];

/// What was said of logs: there is little beside what phones send.
pub(super) struct Needs(BTreeMap<LogId, Vec<StoredEntry>>);

impl Needs {
    /// Reads all certificates and revocations.
    pub(super) async fn of(hub: &Hub<Store>) -> Result<Needs> {
        let trusted = hub.trusted().await?;
        let filter = Filter { kinds: VOUCHING.to_vec(), logs: Vec::new() };
        let (mut said, mut reading) = (BTreeMap::<LogId, Vec<StoredEntry>>::new(), Reading::all(filter));
        while let Some(entries) = reading.next(&hub.store).await? {
            for entry in entries {
                if let Some(about) = about(&entry, trusted.trust()) {
                    said.entry(about).or_default().push(entry);
                }
            }
        }
        Ok(Needs(said))
    }

    /// Returns what was said of a log by those who may.
    pub(super) fn said_of(&self, log: LogId) -> &[StoredEntry] {
        self.0.get(&log).map_or(&[], Vec::as_slice)
    }

    /// Returns a log, those that vouch for it, and those that vouch for them, up to the organisation's.
    pub(super) fn behind(&self, log: LogId) -> BTreeSet<LogId> {
        let (mut behind, mut open) = (BTreeSet::from([log]), vec![log]);
        while let Some(log) = open.pop() {
            let vouching = self.said_of(log).iter().map(|entry| entry.id.log);
            open.extend(vouching.filter(|log| behind.insert(*log)));
        }
        behind
    }
}

/// The log of which an entry says something, where its signer is one who may.
fn about(entry: &StoredEntry, trust: &Trust) -> Option<LogId> {
    let may = trust.is_organisation(entry.id.log) || trust.hub(entry.id.log).is_some();
    let revoked = || Revocation::of_entry(&record::open(&entry.bytes).ok()?).ok().map(|said| said.log);
    let about = certificate(&arrived(entry)).map(|certificate| certificate.key.log()).or_else(revoked);
    about.filter(|_| may)
}

/// Returns the COSE_Key of a log.
pub(super) async fn key(store: &impl HubStore, log: LogId) -> Result<Vec<u8>> {
    let row = Logs::log(store, log).await?;
    Ok(row.context("The key of a log is missing here. Restore a backup beside, and compare.")?.key)
}
