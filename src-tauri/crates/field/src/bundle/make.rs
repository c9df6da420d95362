//! Making a bundle.
//!
//! One bundle holds so much; what does not fit is told, and the next one goes on with it. How far each log has come is kept
//! until a bundle reached the end, so that also what was signed in between goes into the next.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{CERTIFICATE, RECEIPT, REVOCATION};
use exchange::session::Ledger;
use exchange::standpoint::Standpoint;
use exchange::{bundle, packed};
use record::{Entry, EntryId, LogId};
use store::{Place, Seq, Store};

use super::covered::{Covered, Receipts};
use super::made;
use crate::view::BundleMade;
use crate::{Error, Phone, export, when};

/// How many entries are read at a time.
const AT_A_TIME: u32 = 200;

impl Phone {
    /// Writes a bundle into the export folder: of what waits as much as any phone can take in. What is left goes into the
    /// next one.
    ///
    /// # Errors
    ///
    /// [`Error::NotExported`], and what the store says.
    pub fn bundle_make(&self) -> Result<BundleMade, Error> {
        self.bundle_make_within(bundle::MOST_OF_PHONE)
    }

    /// The same with so many bytes at the most, before packing; one entry always goes in.
    ///
    /// # Errors
    ///
    /// As [`Phone::bundle_make`].
    pub fn bundle_make_within(&self, most: usize) -> Result<BundleMade, Error> {
        let _changing = self.changing();
        let before = self.store().carried()?;
        let making = self.bundled(&before, most)?;
        let (put, left) = (making.put, making.left);
        let upto = if left == 0 { BTreeMap::new() } else { making.upto };
        let packed = packed::pack(&making.bundle.done())?;
        let now = self.now();
        let name = format!("records-{}", when::sortable_day(now.wall, now.offset_minutes));
        let path = export::write(self.exports(), &name, "headmark-bundle", &packed)
            .map_err(|error| Error::NotExported { what: error.kind().to_string() })?;
        self.store().keep_carried(&upto)?;
        Ok(made::told(path.to_string_lossy().into_owned(), put, left, !before.is_empty()))
    }

    fn bundled(&self, before: &BTreeMap<store::LogId, Seq>, most: usize) -> Result<Making, Error> {
        let store = self.store();
        let mut making = Making::begin(store, before, most)?;
        if store.hub()?.is_some() {
            self.put_standpoint(&mut making)?;
        }
        let hubs: BTreeSet<LogId> = store.hub_logs()?.iter().map(|hub| hub.log.of_record()).collect();
        // Whom to trust stands in front, in every bundle: of one that is cut the rest can then be judged.
        for kind in [CERTIFICATE, REVOCATION] {
            for kept in store.of_kind(store::Kind(u64::from(kind.0)))? {
                let entry = record::open(&kept.entry.bytes)?;
                if hubs.contains(&entry.id.log) {
                    making.put_always(store, &entry)?;
                }
            }
        }
        // What this phone signed goes before what it only carries.
        let own: BTreeSet<LogId> = store.own_logs()?.into_iter().map(store::LogId::of_record).collect();
        let have = store.have()?;
        let rank = |log: &LogId| (!hubs.contains(log), !own.contains(log));
        let mut logs: Vec<LogId> = have.0.into_keys().collect();
        logs.sort_by_key(rank);
        for log in logs {
            making.put_log(store, log, |from| {
                let some = store.entries(from, AT_A_TIME)?;
                Ok(some.into_iter().map(|kept| kept.entry).collect())
            })?;
        }
        for log in store.parked_logs()? {
            making.put_log(store, log.of_record(), |from| store.parked_entries(from, AT_A_TIME))?;
        }
        Ok(making)
    }

    /// Says where this phone stands, for the bundle that is carried back.
    fn put_standpoint(&self, making: &mut Making) -> Result<(), Error> {
        let (marks, about) = (self.store().marks()?, self.store().about()?);
        let standpoint = Standpoint { epoch: marks.epoch, news: marks.news, areas: marks.areas, about };
        let signer = self.exchange_key()?;
        making.key(self.store(), record::Signer::public(&signer).log())?;
        making.bundle.standpoint(&standpoint.sign(&signer)?);
        Ok(())
    }
}

struct Making {
    bundle: bundle::Writer,
    most: usize,
    receipts: Receipts,
    covered: Covered,
    keys: BTreeSet<LogId>,
    /// Entries by which others are judged: they are in already when their log's turn comes.
    always: BTreeSet<EntryId>,
    /// Entries at the last place of what was read, which are read again with what follows.
    recent: BTreeSet<EntryId>,
    /// Up to which place each log has come.
    upto: BTreeMap<store::LogId, Seq>,
    /// Entries in the bundle, beside those by which others are judged.
    put: u32,
    /// Entries for which there was no room.
    left: u32,
}

impl Making {
    fn begin(store: &Store, before: &BTreeMap<store::LogId, Seq>, most: usize) -> Result<Making, Error> {
        let receipts = Receipts::of(store)?;
        let covered = receipts.backed_up(store)?;
        Ok(Making {
            bundle: bundle::Writer::new(),
            most,
            receipts,
            covered,
            keys: BTreeSet::new(),
            always: BTreeSet::new(),
            recent: BTreeSet::new(),
            upto: before.clone(),
            put: 0,
            left: 0,
        })
    }

    /// Puts what there is of a log in, from where the bundle before this one ended.
    fn put_log(
        &mut self,
        store: &Store,
        log: LogId,
        read: impl Fn(Place) -> Result<Vec<store::NewEntry>, store::Error>,
    ) -> Result<(), Error> {
        let log = store::LogId::of(log);
        let mut from = Place { log, seq: self.upto.get(&log).map_or(Seq(1), |upto| upto.next()) };
        loop {
            self.recent.retain(|id| store::LogId::of(id.log) == log && Seq::of(id.seq) == from.seq);
            let some = read(from)?;
            for kept in &some {
                self.put(store, &record::open(&kept.bytes)?)?;
            }
            // Two branches may stand at the last place, so reading goes on behind it only where nothing was cut off.
            let Some(last) = some.last().filter(|_| some.len() >= AT_A_TIME as usize) else { return Ok(()) };
            let last = last.place.seq;
            from.seq = if last > from.seq { last } else { last.next() };
        }
    }

    /// Puts an entry in, if it has to be carried and there is room. Behind the first for which there is none nothing more
    /// goes in, so that the next bundle can go on from there.
    fn put(&mut self, store: &Store, entry: &Entry<'_>) -> Result<(), Error> {
        if self.always.contains(&entry.id) || !self.recent.insert(entry.id) {
            return Ok(());
        }
        let (log, seq) = (store::LogId::of(entry.id.log), Seq::of(entry.id.seq));
        let old = entry.header.kind == RECEIPT && !self.receipts.is_newest(entry.id.payload);
        let carried = !old && !self.covered.has(entry.id.log, entry.id.seq);
        if carried {
            let full = self.put > 0 && self.bundle.length_with([entry.bytes.len(), KEY]) > self.most;
            if full || self.left > 0 {
                self.left += 1;
                // The other branch at this place may be in: the next bundle begins with both.
                if self.upto.get(&log) == Some(&seq) {
                    self.upto.insert(log, Seq(seq.0.saturating_sub(1)));
                }
                return Ok(());
            }
            self.write(store, entry)?;
            self.put += 1;
        }
        if self.left == 0 {
            self.upto.insert(log, seq);
        }
        Ok(())
    }

    /// Puts an entry in by which others are judged.
    fn put_always(&mut self, store: &Store, entry: &Entry<'_>) -> Result<(), Error> {
        self.always.insert(entry.id);
        self.write(store, entry)
    }

    /// Writes an entry, with its log's key before the first one.
    fn write(&mut self, store: &Store, entry: &Entry<'_>) -> Result<(), Error> {
        if self.key(store, entry.id.log)? {
            self.bundle.entry(entry.bytes);
        }
        Ok(())
    }

    /// Puts the key of a log in, once; returns whether it is known.
    fn key(&mut self, store: &Store, log: LogId) -> Result<bool, Error> {
        if self.keys.contains(&log) {
            return Ok(true);
        }
        let Some(key) = store.public_key(store::LogId::of(log))? else { return Ok(false) };
        self.bundle.key(key.cose());
        self.keys.insert(log);
        Ok(true)
    }
}

/// More than a log's key takes.
const KEY: usize = 64;
