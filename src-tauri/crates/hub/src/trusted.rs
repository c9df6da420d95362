//! Whom the hub trusts, read from its own ledger and kept up with it.
//!
//! The fold itself is [`exchange::trust`]. Here it is fed: with what this process took in, and with what other processes
//! on the same database did meanwhile.

use std::collections::BTreeMap;
use std::sync::Arc;

use ::exchange::decided::{Decided, Decisions};
use ::exchange::intake::Arrived;
use ::exchange::trust::{Trust, Unproved};
use bodies::{CERTIFICATE, Certificate, REVIEW, REVOCATION};
use hubstore::{Arrival, Filter, HubStore, Reading, StoredEntry};
use record::{EntryId, Kind, LogId, Proof, PublicKey, Signer};

use crate::Error;
use crate::branch::Branch;
use crate::home::Hub;

/// The kinds of entries that say whom to trust.
pub const OF_TRUST: [Kind; 3] = [CERTIFICATE, REVOCATION, REVIEW];

/// Trust, up to an entry.
#[derive(Debug, Clone)]
pub struct Trusted {
    trust: Trust,
    /// Apart, so that a copy of the rest costs little.
    decisions: Arc<Decisions>,
    keys: BTreeMap<LogId, PublicKey>,
    upto: Arrival,
}

impl Trusted {
    /// Begins with the organisation's key.
    #[must_use]
    pub fn rooted_in(organisation: &PublicKey) -> Trusted {
        let log = organisation.log();
        Trusted {
            trust: Trust::rooted_in(log),
            decisions: Arc::default(),
            keys: BTreeMap::from([(log, organisation.clone())]),
            upto: Arrival::default(),
        }
    }

    /// Returns the fold.
    #[must_use]
    pub fn trust(&self) -> &Trust {
        &self.trust
    }

    /// Returns the decision about a visit or a proposal that holds.
    #[must_use]
    pub fn decided(&self, subject: &EntryId) -> Option<&Decided> {
        self.decisions.about(subject, &self.trust)
    }

    /// Returns the key of a log that is trusted.
    #[must_use]
    pub fn key(&self, log: LogId) -> Option<&PublicKey> {
        self.keys.get(&log).filter(|_| self.trust.knows(log))
    }

    /// Returns whether the ledger has gone on since.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn is_behind(&self, store: &impl HubStore) -> Result<bool, Error> {
        Ok(store.newest().await? > self.upto)
    }

    /// Reads on in the ledger to its end.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn catch_up(&mut self, store: &impl HubStore) -> Result<(), Error> {
        let filter = Filter { kinds: OF_TRUST.to_vec(), logs: Vec::new() };
        let mut reading = Reading::after(self.upto, filter);
        while let Some(entries) = reading.next(store).await? {
            let arrived: Vec<Arrived> = entries.iter().map(arrived).collect();
            self.learn(&arrived);
            self.upto = reading.upto();
        }
        for Unproved { log, last, entries } in self.trust.unproved() {
            let branch = Branch::down_from(store, log, last.seq, last.payload).await?;
            self.trust.prove(last, entries.into_iter().filter(|id| branch.goes_through(id)));
        }
        Ok(())
    }

    /// Learns what verified entries say.
    pub fn learn(&mut self, entries: &[Arrived]) {
        for entry in entries.iter().filter(|entry| entry.kind == CERTIFICATE) {
            if let Some(certificate) = certificate(entry) {
                self.keys.insert(certificate.key.log(), certificate.key);
            }
        }
        self.trust.learn(entries);
        if entries.iter().any(|entry| entry.kind == REVIEW) {
            Arc::make_mut(&mut self.decisions).learn(entries);
        }
    }
}

/// Returns the keys and certificates by which a phone, or anyone who knows the organisation's fingerprint, comes to trust
/// a device: the organisation's entries, and the hub's certificate of the device.
///
/// # Errors
///
/// What the store says.
pub async fn chain_to<S, K, P>(
    hub: &Hub<S, K, P>,
    device: LogId,
) -> Result<(Vec<Vec<u8>>, Vec<Vec<u8>>), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    certificates(hub, |trusted, entry, about| {
        trusted.trust().is_organisation(entry.id.log) || about == Some(device)
    })
    .await
}

/// Returns the organisation's entries: the certificates of its hubs, its revocations, its own successors.
///
/// # Errors
///
/// What the store says.
pub async fn of_organisation<S, K, P>(hub: &Hub<S, K, P>) -> Result<(Vec<Vec<u8>>, Vec<Vec<u8>>), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    certificates(hub, |trusted, entry, _| trusted.trust().is_organisation(entry.id.log)).await
}

/// Returns certificates, with the keys of their logs before them.
async fn certificates<S, K, P>(
    hub: &Hub<S, K, P>,
    wanted: impl Fn(&Trusted, &StoredEntry, Option<LogId>) -> bool,
) -> Result<(Vec<Vec<u8>>, Vec<Vec<u8>>), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let filter = Filter { kinds: vec![CERTIFICATE, REVOCATION], logs: Vec::new() };
    let (mut keys, mut entries) = (BTreeMap::new(), Vec::new());
    let mut reading = Reading::all(filter);
    while let Some(page) = reading.next(&hub.store).await? {
        for entry in page {
            let about = certificate(&arrived(&entry)).map(|certificate| certificate.key.log());
            if wanted(&trusted, &entry, about) {
                if let Some(key) = trusted.key(entry.id.log) {
                    keys.insert(entry.id.log, key.cose().to_vec());
                }
                entries.push(entry.bytes);
            }
        }
    }
    Ok((keys.into_values().collect(), entries))
}

/// Reads a certificate.
#[must_use]
pub fn certificate(entry: &Arrived) -> Option<Certificate> {
    Certificate::of_entry(&record::open(&entry.bytes).ok()?).ok()
}

/// Takes up a kept entry as it arrived.
#[must_use]
pub fn arrived(entry: &StoredEntry) -> Arrived {
    Arrived { id: entry.id, previous: entry.previous, kind: entry.kind, bytes: entry.bytes.clone() }
}
