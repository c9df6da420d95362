//! All that is kept.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use bodies::{PersonId, PhotoHash};
use exchange::run::Runs;
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::{
    Arrival, Change, Cited, Device, Enrolment, Error, Found, HubPerson, Identity, LogRow, Moment, NewEntry,
    Purpose, StoredEntry, Token, Version, VisitLine,
};

/// A hub's storage in memory. Clones share it, as processes share a database.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    state: Arc<Mutex<State>>,
    /// How many writes will still go through, and what is said of all after them; none for all of them.
    writes_left: Arc<Mutex<Option<(u32, Error)>>>,
    /// How many entries were read out of the order in which they came.
    given: Arc<AtomicU64>,
}

impl Memory {
    /// Returns an empty store.
    #[must_use]
    pub fn new() -> Memory {
        Memory::default()
    }

    /// Returns a store of its own that holds the same now: what a backup is to this one.
    #[must_use]
    pub fn copy(&self) -> Memory {
        Memory { state: Arc::new(Mutex::new(self.state().clone())), ..Memory::default() }
    }

    /// Returns how many entries [`since`](crate::Ledger::since) and [`latest`](crate::Ledger::latest) have given so far:
    /// what a list costs that is made of them.
    #[must_use]
    pub fn given(&self) -> u64 {
        self.given.load(Ordering::Relaxed)
    }

    pub(super) fn gave(&self, entries: &[StoredEntry]) {
        self.given.fetch_add(entries.len() as u64, Ordering::Relaxed);
    }

    /// Lets so many writes through and refuses all after them, as if the process or its disk had stopped there; none
    /// lets all through again.
    pub fn stop_after(&self, writes: Option<u32>) {
        let stopped = Error::Io { what: "no write goes through any more".into() };
        self.refuse_after(writes.map(|writes| (writes, stopped)));
    }

    /// Lets so many writes through and says of all after them that the storage is full; none lets all through again.
    pub fn full_after(&self, writes: Option<u32>) {
        self.refuse_after(writes.map(|writes| (writes, Error::Full)));
    }

    fn refuse_after(&self, writes: Option<(u32, Error)>) {
        *self.writes_left.lock().unwrap_or_else(PoisonError::into_inner) = writes;
    }

    /// Takes the lock for a write, while writes go through.
    pub(super) fn writing(&self) -> Result<MutexGuard<'_, State>, Error> {
        let mut left = self.writes_left.lock().unwrap_or_else(PoisonError::into_inner);
        match left.as_mut() {
            Some((0, refusal)) => return Err(refusal.clone()),
            Some((writes, _)) => *writes -= 1,
            None => {}
        }
        Ok(self.state())
    }

    /// Takes the lock. No call leaves a change half done: it decides first and writes after.
    pub(super) fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A job that waits.
#[derive(Debug, Clone, Copy)]
pub(super) struct Waiting {
    pub(super) until: Moment,
    pub(super) tries: u32,
}

#[derive(Debug, Clone, Default)]
pub(super) struct State {
    pub(super) identity: Option<Identity>,
    pub(super) settings: BTreeMap<String, Vec<u8>>,
    pub(super) logs: BTreeMap<LogId, LogRow>,
    pub(super) entries: BTreeMap<Arrival, StoredEntry>,
    pub(super) places: BTreeMap<(LogId, Seq), BTreeMap<PayloadHash, Arrival>>,
    pub(super) runs: BTreeMap<LogId, Runs>,
    pub(super) forks: BTreeSet<(LogId, Seq)>,
    pub(super) parked: BTreeMap<EntryId, ([u8; 32], NewEntry)>,
    /// None stands for everyone.
    pub(super) concerns: BTreeSet<(Option<LogId>, Arrival)>,
    /// The newest by log, signer, grade.
    pub(super) receipts: BTreeMap<(LogId, LogId, String), Arrival>,
    pub(super) visits: BTreeMap<Arrival, VisitLine>,
    /// What is said of each, and whether all of it is here.
    pub(super) photos: BTreeMap<PhotoHash, (Cited, bool)>,
    /// The pieces that are here, by the length of the photo that they are of.
    pub(super) pieces: BTreeMap<(PhotoHash, u64), BTreeSet<u32>>,
    pub(super) cites: BTreeMap<(LogId, PhotoHash), Arrival>,
    pub(super) tokens: BTreeMap<(Purpose, [u8; 32]), Token>,
    pub(super) enrolments: BTreeMap<LogId, Enrolment>,
    pub(super) strikes: BTreeMap<String, (i64, u64)>,
    pub(super) persons: BTreeMap<PersonId, HubPerson>,
    pub(super) devices: BTreeMap<LogId, Device>,
    /// The newest change of each tag in each area.
    pub(super) rows: BTreeMap<(String, String), Change>,
    pub(super) history: Vec<Change>,
    pub(super) version: Version,
    pub(super) queue: BTreeMap<Arrival, Waiting>,
    pub(super) found: BTreeMap<Arrival, Found>,
}

impl State {
    pub(super) fn newest(&self) -> Arrival {
        self.entries.last_key_value().map_or(Arrival::default(), |(arrival, _)| *arrival)
    }

    pub(super) fn by_id(&self, id: EntryId) -> Option<&StoredEntry> {
        let arrival = self.places.get(&(id.log, id.seq))?.get(&id.payload)?;
        self.entries.get(arrival)
    }
}
