//! Entries: in, once and for good; and out, in the order they came or along a chain.

use std::collections::{BTreeMap, BTreeSet};
use std::future::Future;

use exchange::run::{Runs, Step, Wanted};
use record::{EntryId, Kind, LogId, PayloadHash, Seq};

use super::Follows;
use crate::{Arrival, Error, NewEntry};

/// A log that is vouched for from now on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewLog {
    /// Its name.
    pub log: LogId,
    /// Its public key, as COSE_Key.
    pub key: Vec<u8>,
}

/// How much may wait for a certificate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ParkingLimits {
    /// The most entries of one log.
    pub entries_of_log: u64,
    /// The most bytes that one carrier may have brought.
    pub bytes_of_carrier: u64,
    /// The most bytes of all carriers together, since a key costs nothing and anyone can be many carriers; each entry
    /// counts with [`PARKED_BESIDE`] more than it has.
    pub bytes_in_all: u64,
}

/// What a parked entry takes beside its bytes, at the most: its row, and the key of its log.
pub const PARKED_BESIDE: u64 = 1024;

impl Default for ParkingLimits {
    fn default() -> ParkingLimits {
        ParkingLimits { entries_of_log: 1_000, bytes_of_carrier: 64 << 20, bytes_in_all: 512 << 20 }
    }
}

/// Entries to be taken in together, opened and verified by the caller.
#[derive(Debug, Clone, Default)]
pub struct Batch {
    /// Who brought it: the log of the phone that pushed, or all zeros for a file.
    pub carrier: [u8; 32],
    /// Logs that are vouched for, by certificates the caller has judged. What of them is parked is adopted.
    pub known: Vec<NewLog>,
    /// Keys of logs that nobody vouches for yet. One is kept where something of its log is parked.
    pub keys: Vec<NewLog>,
    /// The entries.
    pub entries: Vec<NewEntry>,
    /// How much may be parked.
    pub parking: ParkingLimits,
}

/// Why an entry was not taken. Both pass: the sender keeps it and tries again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// Too many entries of this unknown log wait already.
    LogParked,
    /// This carrier has brought too many bytes of unknown logs.
    CarrierFull,
    /// All carriers together have brought too many bytes of unknown logs.
    ParkingFull,
}

impl Refusal {
    /// Returns the stable code.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Refusal::LogParked => "hubstore.log_parked",
            Refusal::CarrierFull => "hubstore.carrier_full",
            Refusal::ParkingFull => "hubstore.parking_full",
        }
    }
}

/// What came of one entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// It is new, and in.
    New(Arrival),
    /// It is new, and in, and another payload stands at its place: a fork. Both are kept.
    Fork(Arrival),
    /// It was here already.
    Already,
    /// Nobody vouches for its log: it waits.
    Parked,
    /// It was not taken, for now.
    Refused(Refusal),
}

/// What came of a batch.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Ingested {
    /// For each entry of the batch, in its order.
    pub outcomes: Vec<Outcome>,
    /// Entries that had been parked and are in now.
    pub adopted: Vec<EntryId>,
}

/// An entry that is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredEntry {
    /// When it came, among all entries here.
    pub arrival: Arrival,
    /// Its identity.
    pub id: EntryId,
    /// The payload before it.
    pub previous: Option<PayloadHash>,
    /// What it is.
    pub kind: Kind,
    /// All of it, exactly as it arrived.
    pub bytes: Vec<u8>,
}

/// Which entries are looked for; an empty list asks for all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Filter {
    /// Of these kinds.
    pub kinds: Vec<Kind>,
    /// Of these logs.
    pub logs: Vec<LogId>,
}

/// How much is given at once. One entry is always given when there is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The most entries.
    pub entries: u32,
    /// The most bytes of entries.
    pub bytes: u64,
}

impl Default for Limit {
    fn default() -> Limit {
        Limit { entries: 1_000, bytes: 4 << 20 }
    }
}

impl Limit {
    /// Takes from the front as much as is permitted, and says whether something was left.
    pub(crate) fn cut<T>(self, sized: impl Iterator<Item = (T, u64)>) -> (Vec<T>, bool) {
        let mut taken = Vec::new();
        let mut bytes = 0_u64;
        for (thing, size) in sized {
            bytes = bytes.saturating_add(size);
            let full = taken.len() >= self.entries as usize || bytes > self.bytes;
            if full && !taken.is_empty() {
                return (taken, true);
            }
            taken.push(thing);
        }
        (taken, false)
    }
}

/// What is new for somebody.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct News {
    /// The entries, in the order they came.
    pub entries: Vec<StoredEntry>,
    /// From where to ask next time.
    pub upto: Arrival,
    /// Whether there is more right now.
    pub more: bool,
}

/// A place of a log with more than one payload.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fork {
    /// Whose log.
    pub log: LogId,
    /// Which place.
    pub seq: Seq,
    /// What stands there, sorted.
    pub payloads: Vec<PayloadHash>,
}

/// The ledger. Entries are never changed and never leave.
pub trait Ledger {
    /// Takes a batch in, in one durable transaction. Arrival numbers follow the order of commits, so that who reads
    /// on from a number misses nothing.
    fn ingest(&self, batch: Batch) -> impl Future<Output = Result<Ingested, Error>> + Send;

    /// Appends entries behind the end of a log that this hub signs itself. Several processes may try at once: one
    /// goes through, the others get [`Error::OutOfStep`], sign again behind the new end, and never fork the log.
    fn append(&self, entries: Vec<NewEntry>) -> impl Future<Output = Result<Arrival, Error>> + Send;

    /// Appends as [`Ledger::append`] does, and does what follows from it, all in one durable transaction. Where something
    /// of that does not stand as it was read, nothing is done: [`Error::OutOfStep`]. Nor is anything done where a person
    /// is to have another's name: [`Error::NameTaken`].
    fn append_with(
        &self,
        entries: Vec<NewEntry>,
        follows: Follows,
    ) -> impl Future<Output = Result<Arrival, Error>> + Send;

    /// Returns the place and payload at the end of a log; of a forked one the highest place.
    fn tip(&self, log: LogId) -> impl Future<Output = Result<Option<(Seq, PayloadHash)>, Error>> + Send;

    /// Returns what is held of logs. One of which nothing is held is left out.
    fn runs(&self, logs: &[LogId]) -> impl Future<Output = Result<BTreeMap<LogId, Runs>, Error>> + Send;

    /// Returns for each entry whether it is held. Parked ones are not.
    fn holds(&self, ids: &[EntryId]) -> impl Future<Output = Result<Vec<bool>, Error>> + Send;

    /// Returns an entry.
    fn entry(&self, id: EntryId) -> impl Future<Output = Result<Option<StoredEntry>, Error>> + Send;

    /// Returns a branch, lowest place first. At most 10,000 places may be asked for at once.
    fn branch(&self, wanted: Wanted) -> impl Future<Output = Result<Vec<StoredEntry>, Error>> + Send;

    /// Returns how the entries at these places of a log hang together, lowest place first, without reading them. At most
    /// 10,000 places may be asked for at once.
    fn links(&self, log: LogId, from: Seq, to: Seq) -> impl Future<Output = Result<Vec<Step>, Error>> + Send;

    /// Returns the places of a log, up to and with this one, at which more than one payload stands.
    fn forked(&self, log: LogId, upto: Seq) -> impl Future<Output = Result<BTreeSet<Seq>, Error>> + Send;

    /// Returns entries that came after a number, in the order they came.
    fn since(
        &self,
        after: Arrival,
        filter: &Filter,
        limit: Limit,
    ) -> impl Future<Output = Result<News, Error>> + Send;

    /// Returns entries that came before a number, or all there are, the newest first: as many as the limit permits, and none
    /// where there are no more.
    fn latest(
        &self,
        before: Option<Arrival>,
        filter: &Filter,
        limit: Limit,
    ) -> impl Future<Output = Result<Vec<StoredEntry>, Error>> + Send;

    /// Returns what is new for the owner of these logs: certificates, who confirmed a phone, revocations, and what concerns
    /// the logs (reviews, amendments, the newest receipt of each signer and grade, and those that name photos alone).
    fn news_for(
        &self,
        logs: &[LogId],
        after: Arrival,
        limit: Limit,
    ) -> impl Future<Output = Result<News, Error>> + Send;

    /// Returns the newest receipt for a log of each signer and grade, and those that name photos alone, in the order they
    /// came.
    fn receipts(&self, log: LogId) -> impl Future<Output = Result<Vec<StoredEntry>, Error>> + Send;

    /// Returns the number of the newest entry.
    fn newest(&self) -> impl Future<Output = Result<Arrival, Error>> + Send;

    /// Returns all forks, sorted.
    fn forks(&self) -> impl Future<Output = Result<Vec<Fork>, Error>> + Send;
}
