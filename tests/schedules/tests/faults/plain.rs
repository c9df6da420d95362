//! The plainest phone: a key and a disk in memory, on which a step that writes is done whole or not at all.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use bodies::{
    Confirmed as ByWhat, Epoch, Grade, LastTrusted, OBSERVATION, OBSERVATION_VERSION, Observation, Observed,
    PersonId, Photo, PhotoHash, RECEIPT, RECEIPT_VERSION, Receipt, Technician,
};
use exchange::bundle::{self, Piece};
use exchange::have::held;
use exchange::intake::{self, Arrived};
use exchange::session::Marks;
use record::{Claimed, EntryId, Kind, Link, LogId, NewEntry, PayloadHash, PublicKey, Seq, Signer, seal};

use crate::chance::Chance;
use crate::cheap::Signing;
use crate::disk::{Disk, Flash, Kept, Stopped};
use crate::phone::{Confirmed, Found, Phone, Write};

/// A phone in memory.
pub struct Plain<S: Signing> {
    key: S::Key,
    flash: Flash,
    /// The end of its own branch.
    tip: Cell<Option<(Seq, PayloadHash)>>,
}

/// The kinds of entries that phones write here: a visit, an observation, a proposal, and one of a time to come.
const KINDS: [u32; 4] = [1, 2, 4, 99];

/// What somebody writes: a kind, and a body that no version reads.
pub fn written(chance: &mut Chance) -> (Kind, Vec<u8>) {
    let kind = Kind(KINDS[chance.below(KINDS.len())]);
    let length = u8::try_from(chance.below(24)).unwrap();
    let body = std::iter::once(0x40 | length).chain((0..length).map(|_| chance.bits() as u8));
    (kind, body.collect())
}

/// The body of the record of a photo.
pub fn observed(photo: PhotoHash, length: u64) -> Vec<u8> {
    let observation = Observation {
        app: String::new(),
        technician: Technician { person: PersonId([1; 16]), confirmed: ByWhat::None },
        tag: String::new(),
        what: Observed::Photo,
        photo: Some(Photo { hash: photo, length, media_type: "image/jpeg".into() }),
        readings: Vec::new(),
        note: String::new(),
        made_for: String::new(),
    };
    observation.encode().unwrap()
}

/// A clock that goes anywhere.
pub fn some_time(chance: &mut Chance) -> i64 {
    (chance.bits() >> 20) as i64 - (1 << 42)
}

impl<S: Signing> Plain<S> {
    fn over(key: S::Key, disk: Disk) -> Plain<S> {
        Plain { key, flash: Flash::holding(disk), tip: Cell::new(None) }
    }

    /// The same with a key of its own.
    fn anew(mut disk: Disk, chance: &mut Chance) -> Plain<S> {
        let key = S::key(chance.bytes());
        disk.own.push(key.public().log());
        disk.keys.insert(key.public().log(), key.public().clone());
        Plain::over(key, disk)
    }

    fn sign(&self, kind: Kind, version: u32, body: &[u8], chance: &mut Chance) -> Result<(), Stopped> {
        let link = self.tip.get().map_or(Link::First, |(seq, payload)| Link::After { seq, payload });
        let claimed = Claimed { millis: some_time(chance), offset_minutes: 0 };
        let new = NewEntry { link, kind, body_version: version, claimed, boot: None };
        let sealed = seal(&new, body, &self.key).unwrap();
        let arrived = Arrived::of(&record::open(&sealed.bytes).unwrap());
        let id = arrived.id;
        let written = self.flash.write(|disk| disk.put(&arrived));
        if self.flash.disk.borrow().entries.contains_key(&id) {
            self.tip.set(Some((id.seq, id.payload)));
        }
        written.map(drop)
    }

    fn try_photograph(&self, chance: &mut Chance) -> Result<(), Stopped> {
        let photo = PhotoHash(chance.bytes());
        self.flash.write(|disk| disk.photos.insert(photo, Kept::Here))?;
        self.sign(OBSERVATION, OBSERVATION_VERSION, &observed(photo, 1), chance)
    }

    fn try_take_bundle(&self, bundle: &[u8], chance: &mut Chance) -> Result<(), Stopped> {
        let (pieces, _) = bundle::read(bundle).unwrap();
        let known = |log| self.flash.disk.borrow().keys.get(&log).cloned();
        let intake = intake::bundle(&pieces, known, &S::proof());
        assert!(intake.bad.is_empty(), "a whole bundle of good entries: {:?}", intake.bad);
        assert!(!pieces.iter().any(|piece| matches!(piece, Piece::Other(_))));
        let mut new = Vec::new();
        self.flash.write(|disk| {
            disk.keys.extend(intake.keys.iter().map(|key| (key.log(), key.clone())));
            new.extend(
                intake.entries.iter().filter(|entry| disk.put(entry)).map(|entry| (entry.id.log, entry.kind)),
            );
            let trust = &disk.trust;
            disk.marks.give_back |=
                new.iter().any(|(log, _)| trust.hub(*log).is_some() || trust.is_organisation(*log));
        })?;
        // A receipt for a receipt would be answered by one, for ever.
        let mut logs: Vec<LogId> = new
            .into_iter()
            .filter(|(log, kind)| *kind != RECEIPT && *log != self.log())
            .map(|(log, _)| log)
            .collect();
        logs.sort_unstable();
        logs.dedup();
        for log in logs {
            let runs = held(&self.flash.disk.borrow().runs[&log]);
            let receipt = Receipt { epoch: None, log, runs, photos: [].into(), grade: Grade::Relayed };
            self.sign(RECEIPT, RECEIPT_VERSION, &receipt.encode().unwrap(), chance)?;
        }
        Ok(())
    }
}

// A phone that stopped is started again: what was durable is there.
impl<S: Signing> Phone for Plain<S> {
    type Signing = S;
    type Kept = Flash;
    type Key = S::Key;
    type Backup = Disk;

    fn new(organisation: &PublicKey, chance: &mut Chance) -> Plain<S> {
        let mut disk = Disk::rooted_in(organisation.log());
        disk.keys.insert(organisation.log(), organisation.clone());
        Plain::anew(disk, chance)
    }

    fn key(&self) -> PublicKey {
        self.key.public().clone()
    }

    fn tip(&self) -> Option<LastTrusted> {
        self.tip.get().map(|(seq, payload)| LastTrusted { seq, payload })
    }

    fn next_write(&mut self, write: Write, _: &mut Chance) {
        self.flash.next_write.set(write);
    }

    fn write(&mut self, chance: &mut Chance) {
        let (kind, body) = written(chance);
        let _stopped = self.sign(kind, 1, &body, chance);
    }

    fn photograph(&mut self, chance: &mut Chance) {
        let _stopped = self.try_photograph(chance);
    }

    fn free(&mut self, _: &mut Chance) {
        let _stopped = self.flash.write(|disk| {
            let backed_up = disk.photos_received().filter(|(_, grade)| *grade >= Grade::BackedUp);
            for (photo, _) in backed_up.collect::<Vec<_>>() {
                disk.photos.entry(photo).and_modify(|kept| *kept = Kept::Freed);
            }
        });
    }

    fn bundle(&mut self) -> Vec<u8> {
        let disk = self.flash.disk.borrow();
        let mut bundle = bundle::Writer::new();
        disk.keys.values().for_each(|key| bundle.key(key.cose()));
        disk.entries.values().for_each(|entry| bundle.entry(&entry.bytes));
        bundle.done()
    }

    fn take_bundle(&mut self, bundle: &[u8], chance: &mut Chance) {
        let _stopped = self.try_take_bundle(bundle, chance);
    }

    /// It knows the organisation from the start, and hears of its own certificate by the news.
    fn confirmed(&mut self, _: &Confirmed, _: &mut Chance) {}

    fn has_hub(&self) -> bool {
        true
    }

    fn session(&self) -> (&Flash, S::Key) {
        (&self.flash, self.key.clone())
    }

    fn exchanged(&mut self, _: Option<String>, _: &mut Chance) {}

    fn photos_to_bring(&self) -> Vec<PhotoHash> {
        let disk = self.flash.disk.borrow();
        let received: BTreeSet<PhotoHash> = disk.photos_received().map(|(photo, _)| photo).collect();
        disk.here().filter(|photo| !received.contains(photo)).collect()
    }

    fn starts_again(&mut self, _: &mut Chance) {}

    fn back_up(&mut self, _: &mut Chance) -> Disk {
        self.flash.disk.borrow().clone()
    }

    fn restore(&mut self, backup: &Disk, chance: &mut Chance) {
        *self = Plain::anew(backup.clone(), chance);
    }

    fn is_damaged(&mut self, chance: &mut Chance) -> bool {
        let lost = chance.below(60) as u64;
        let left = self.flash.disk.borrow().damaged(|| chance.percent(lost));
        *self = Plain::anew(left, chance);
        true
    }

    fn clone_of(&mut self, _: &mut Chance) -> Plain<S> {
        let clone = Plain::over(self.key.clone(), self.flash.disk.borrow().clone());
        clone.tip.set(self.tip.get());
        clone
    }

    fn changed(&self) -> bool {
        self.flash.changed.replace(false)
    }

    fn epoch(&self) -> Option<Epoch> {
        self.flash.disk.borrow().marks.epoch
    }

    fn received(&self) -> Vec<(EntryId, Grade)> {
        self.flash.disk.borrow().received()
    }

    fn photos_received(&self) -> Vec<(PhotoHash, Grade)> {
        self.flash.disk.borrow().photos_received().collect()
    }

    fn freed(&self) -> BTreeSet<PhotoHash> {
        let disk = self.flash.disk.borrow();
        disk.photos.iter().filter(|(_, kept)| **kept == Kept::Freed).map(|(photo, _)| *photo).collect()
    }

    fn holds(&self) -> (usize, Marks) {
        let disk = self.flash.disk.borrow();
        (disk.entries.len(), disk.marks.clone())
    }

    fn found(&self) -> Found {
        let disk = self.flash.disk.borrow();
        let rows = |(area, rows): (&String, &BTreeMap<String, Vec<u8>>)| {
            let area = area.clone();
            let row = move |(tag, row): (&String, &Vec<u8>)| ((area.clone(), tag.clone()), row.clone());
            rows.iter().map(row).collect::<Vec<_>>()
        };
        Found {
            log: self.log(),
            entries: disk.entries.iter().map(|(id, arrived)| (*id, arrived.bytes.clone())).collect(),
            own: disk.own.clone(),
            trust: disk.trust.clone(),
            lacks: disk.lacks(),
            knows_of_copy: disk.knows_of_copy(),
            register: disk.rows.iter().flat_map(rows).collect(),
            photos: disk.here().collect(),
        }
    }

    /// A letter: nobody reads it.
    fn row(_: &str, _: &str, chance: &mut Chance) -> Vec<u8> {
        vec![chance.bits() as u8]
    }
}
