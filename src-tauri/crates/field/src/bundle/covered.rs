//! What need not be carried again: what the hub said is in its backup.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{Epoch, Grade, RECEIPT, Receipt};
use exchange::receipt;
use record::{LogId, PayloadHash, Seq};
use store::{Place, Store};

use crate::Error;

/// Receipts of the log, read.
pub(super) struct Receipts {
    newest: BTreeMap<Of, Newest>,
    /// Those that name photos alone: none takes another's place.
    of_photos: BTreeSet<PayloadHash>,
}

/// Who says it, of which log, in which epoch, how safely it is held.
type Of = (LogId, LogId, Option<Epoch>, Grade);

/// The newest receipt of its kind.
struct Newest {
    seq: Seq,
    payload: PayloadHash,
    said: Receipt,
}

impl Receipts {
    pub(super) fn of(store: &Store) -> Result<Receipts, Error> {
        let mut newest: BTreeMap<Of, Newest> = BTreeMap::new();
        let mut of_photos = BTreeSet::new();
        for kept in store.of_kind(store::Kind(u64::from(RECEIPT.0)))? {
            let entry = record::open(&kept.entry.bytes)?;
            // One of a later version says nothing here; it is carried as an entry like any other.
            let Ok(said) = Receipt::of_entry(&entry) else { continue };
            if said.names_photos_alone() {
                of_photos.insert(entry.id.payload);
                continue;
            }
            let of = (entry.id.log, said.log, said.epoch, said.grade);
            if newest.get(&of).is_none_or(|before| before.seq < entry.id.seq) {
                newest.insert(of, Newest { seq: entry.id.seq, payload: entry.id.payload, said });
            }
        }
        Ok(Receipts { newest, of_photos })
    }

    /// Returns whether a receipt is the newest of its kind, or one of those that stand beside it.
    pub(super) fn is_newest(&self, payload: PayloadHash) -> bool {
        self.of_photos.contains(&payload) || self.newest.values().any(|newest| newest.payload == payload)
    }

    /// Returns the newest that this phone itself gave as a relay for a log.
    pub(super) fn relayed(&self, own: LogId, log: LogId) -> Option<&Receipt> {
        self.newest.get(&(own, log, None, Grade::Relayed)).map(|newest| &newest.said)
    }

    /// Returns the places of each log that the hub has in its backup. A forked log has none: by places alone nobody can
    /// tell which branch is meant.
    pub(super) fn backed_up(&self, store: &Store) -> Result<Covered, Error> {
        let trust = exchange::session::Ledger::trust(store)?;
        let epoch = exchange::session::Ledger::marks(store)?.epoch;
        let hub = epoch.and_then(|epoch| trust.hub_of(epoch));
        let forked: BTreeSet<LogId> = store.forked()?.into_iter().map(store::LogId::of_record).collect();
        let mut covered = BTreeMap::new();
        for ((issuer, log, of, grade), newest) in &self.newest {
            let counts = Some(*issuer) == hub && *of == epoch && *grade == Grade::BackedUp;
            if counts && !forked.contains(log) {
                covered.insert(*log, proven(store, &newest.said)?);
            }
        }
        Ok(Covered(covered))
    }
}

/// The runs of a receipt whose ends are held here with the same payload.
fn proven(store: &Store, said: &Receipt) -> Result<Vec<(u64, u64)>, Error> {
    let mut held = BTreeSet::new();
    for run in &said.runs {
        let place = Place { log: store::LogId::of(said.log), seq: store::Seq::of(run.to) };
        held.extend(store.entry(place)?.map(|kept| (run.to, kept.entry.hash.of_record())));
    }
    let runs = receipt::proven(said, |seq, payload| held.contains(&(seq, payload)));
    Ok(runs.iter().map(|run| (run.from.get(), run.to.get())).collect())
}

/// Places that need not be carried.
pub(super) struct Covered(BTreeMap<LogId, Vec<(u64, u64)>>);

impl Covered {
    pub(super) fn has(&self, log: LogId, seq: Seq) -> bool {
        let runs = self.0.get(&log).map_or(&[][..], Vec::as_slice);
        runs.iter().any(|(from, to)| (*from..=*to).contains(&seq.get()))
    }
}
