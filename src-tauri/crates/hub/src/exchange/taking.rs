//! Taking entries in: whose they are is judged, and all of them go into one transaction.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use ::exchange::intake::Arrived;
use ::exchange::message::Refused;
use bodies::REVOCATION;
use hubstore::{Batch, HubStore, Ingested, NewEntry, NewLog, Outcome};
use record::{LogId, PublicKey, Signer};

use super::{Keys, Opened, open_all};
use crate::Error;
use crate::home::Hub;
use crate::settling::settle_logs;
use crate::trusted::{OF_TRUST, Trusted, certificate};

/// What came, and who brought it.
#[derive(Debug, Clone, Default)]
pub struct Came {
    /// The log of the phone that brought it, or zeros for a file.
    pub carrier: [u8; 32],
    /// Keys of logs.
    pub keys: BTreeMap<LogId, PublicKey>,
    /// Entries.
    pub entries: Vec<Vec<u8>>,
}

/// What became of it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Taken {
    /// Entries that were new, parked ones that are in now included.
    pub new: u64,
    /// Entries that wait for a certificate.
    pub parked: u64,
    /// Entries that were here already.
    pub already: u64,
    /// Places that turned out to be forked.
    pub forks: u64,
    /// What was not taken. What has no identity at all is only counted.
    pub refused: Vec<Refused>,
    /// Pieces that are no entries.
    pub not_entries: u64,
    /// Logs of which more is held now.
    pub grown: BTreeSet<LogId>,
    /// Logs that came, whatever became of them.
    pub touched: BTreeSet<LogId>,
}

impl<S, K, P> Hub<S, K, P>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    /// Opens, verifies, judges and takes in, in one durable transaction.
    ///
    /// # Errors
    ///
    /// What the store says; then nothing was taken.
    pub async fn take(&self, came: Came) -> Result<Taken, Error> {
        let before = self.trusted().await?;
        let mut keys = Keys { came: came.keys, trusted: Arc::clone(&before) };
        let mut opened = open_all(came.entries, &Arc::new(keys.clone()), &self.signing.proof).await?;
        self.open_parked(&mut opened, &mut keys).await?;
        let (good, mut taken) = sorted(opened);
        let judged = Judged::of(&before, &good, &keys.came);
        let ids: Vec<_> = good.iter().map(|entry| entry.id).collect();
        let said: Vec<Arrived> = judged.said;
        taken.touched = ids.iter().map(|id| id.log).collect();
        let batch = Batch {
            carrier: came.carrier,
            known: judged.known,
            keys: judged.strangers,
            entries: good,
            ..Batch::default()
        };
        let ingested =
            if batch.entries.is_empty() { Ingested::default() } else { self.store.ingest(batch).await? };
        for (id, outcome) in ids.iter().zip(&ingested.outcomes) {
            taken.count(*id, *outcome);
        }
        taken.new += ingested.adopted.len() as u64;
        taken.grown.extend(ingested.adopted.iter().map(|id| id.log));
        if !said.is_empty() {
            self.settle(&said).await?;
        }
        Ok(taken)
    }

    /// Opens what lacks a key with the keys of logs that are parked here: who brought more of them may have left the key
    /// out this time.
    async fn open_parked(&self, opened: &mut Vec<Opened>, keys: &mut Keys) -> Result<(), Error> {
        let logs: BTreeSet<LogId> = opened.iter().filter_map(Opened::lacks_key_of).collect();
        if logs.is_empty() {
            return Ok(());
        }
        for log in logs {
            if let Some(row) = self.store.log(log).await? {
                keys.came.insert(log, PublicKey::from_cose(&row.key)?);
            }
        }
        let (without, with): (Vec<_>, Vec<_>) =
            std::mem::take(opened).into_iter().partition(|one| one.lacks_key_of().is_some());
        *opened = with;
        let bytes = without.into_iter().filter_map(Opened::into_bytes).collect();
        opened.extend(open_all(bytes, &Arc::new(keys.clone()), &self.signing.proof).await?);
        Ok(())
    }

    /// Brings the lists of logs and phones in line with what was said.
    async fn settle(&self, said: &[Arrived]) -> Result<(), Error> {
        let revoked = said.iter().filter(|entry| entry.kind == REVOCATION);
        let revoked = revoked.filter_map(|entry| {
            Some(bodies::Revocation::of_entry(&record::open(&entry.bytes).ok()?).ok()?.log)
        });
        let certified = said.iter().filter_map(certificate).map(|certificate| certificate.key.log());
        settle_logs(self, &revoked.chain(certified).collect()).await
    }
}

/// Whom the entries of a batch make known.
struct Judged {
    known: Vec<NewLog>,
    strangers: Vec<NewLog>,
    said: Vec<Arrived>,
}

impl Judged {
    fn of(before: &Trusted, good: &[NewEntry], came: &BTreeMap<LogId, PublicKey>) -> Judged {
        let said: Vec<Arrived> =
            good.iter().filter(|entry| OF_TRUST.contains(&entry.kind)).map(arrived).collect();
        let mut after = std::borrow::Cow::Borrowed(before);
        if !said.is_empty() {
            after.to_mut().learn(&said);
        }
        let subjects = said.iter().filter_map(certificate).map(|certificate| certificate.key);
        let logs: BTreeSet<LogId> = good.iter().map(|entry| entry.id.log).collect();
        let mut keys: BTreeMap<LogId, PublicKey> = subjects.map(|key| (key.log(), key)).collect();
        for log in logs {
            if let Some(key) = came.get(&log).or_else(|| after.key(log)) {
                keys.insert(log, key.clone());
            }
        }
        let (known, strangers) =
            keys.into_iter().partition::<Vec<_>, _>(|(log, _)| after.trust().knows(*log));
        let rows = |keys: Vec<(LogId, PublicKey)>| {
            keys.into_iter().map(|(log, key)| NewLog { log, key: key.cose().to_vec() }).collect()
        };
        Judged { known: rows(known), strangers: rows(strangers), said }
    }
}

fn arrived(entry: &NewEntry) -> Arrived {
    Arrived { id: entry.id, previous: entry.previous, kind: entry.kind, bytes: entry.bytes.clone() }
}

fn sorted(opened: Vec<Opened>) -> (Vec<NewEntry>, Taken) {
    let (mut good, mut taken) = (Vec::new(), Taken::default());
    for one in opened {
        match one {
            Opened::Good(entry) => good.push(*entry),
            Opened::Bad { id: Some(id), error } => {
                taken.refused.push(Refused { id, code: error.code().to_owned() });
            }
            Opened::NoKey { id, .. } => {
                taken.refused.push(Refused { id, code: "hub.key_missing".to_owned() });
            }
            Opened::Bad { id: None, .. } => taken.not_entries += 1,
        }
    }
    (good, taken)
}

impl Taken {
    /// Adds what became of more.
    pub(super) fn add(&mut self, more: Taken) {
        self.new += more.new;
        self.parked += more.parked;
        self.already += more.already;
        self.forks += more.forks;
        self.refused.extend(more.refused);
        self.not_entries += more.not_entries;
        self.grown.extend(more.grown);
        self.touched.extend(more.touched);
    }

    fn count(&mut self, id: record::EntryId, outcome: Outcome) {
        match outcome {
            Outcome::New(_) => self.new += 1,
            Outcome::Fork(_) => {
                self.new += 1;
                self.forks += 1;
            }
            Outcome::Already => self.already += 1,
            Outcome::Parked => self.parked += 1,
            // The one word of the exchange for what may be tried again later.
            Outcome::Refused(_) => self.refused.push(Refused { id, code: "full".to_owned() }),
        }
        if matches!(outcome, Outcome::New(_) | Outcome::Fork(_)) {
            self.grown.insert(id.log);
        }
    }
}
