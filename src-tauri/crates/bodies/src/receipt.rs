//! What another device holds of a log. Only a receipt lets a phone say that something was sent.

use std::collections::BTreeSet;

use record::{Kind, LogId, PayloadHash, Seq};

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Out, Read, Written, bytes, row, seq, word};
use crate::{Epoch, Error, PhotoHash};

/// The kind of entry that holds a receipt.
pub const RECEIPT: Kind = Kind(6);

/// The version of the receipt's body that is written here.
pub const RECEIPT_VERSION: u32 = 1;

/// The most photos that one receipt names: the newest, unless it names photos alone. All of them fit an entry beside the
/// runs.
pub const RECEIPT_PHOTOS: usize = 4000;

/// The most runs that a receipt is written with. A run takes up to 53 bytes and a photo 34, so that both fit an entry. One
/// with more is read all the same.
pub const RECEIPT_RUNS: usize = 2000;

/// How safely it is held. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// On another phone, which passes it on.
    Relayed,
    /// In the hub's storage.
    Stored,
    /// In the hub's storage, and in a backup of it.
    BackedUp,
}

const GRADES: [Grade; 3] = [Grade::Relayed, Grade::Stored, Grade::BackedUp];

impl Grade {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Grade::Relayed => "relayed",
            Grade::Stored => "stored",
            Grade::BackedUp => "backed_up",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Grade> {
        GRADES.into_iter().find(|grade| grade.word() == word)
    }
}

/// A piece of a chain that is held without a gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HeldRun {
    /// The first place.
    pub from: Seq,
    /// The last place.
    pub to: Seq,
    /// The hash of the payload at the last place.
    pub end: PayloadHash,
}

/// A receipt as it is signed: cumulative, so that the newest one says all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    /// The epoch of the hub that holds it; none from a phone that relays, and from no one else.
    pub epoch: Option<Epoch>,
    /// Whose entries.
    pub log: LogId,
    /// What is held, in rising order. Two runs over one place are two branches of a fork, so no end stands twice.
    pub runs: Vec<HeldRun>,
    /// The photos that these entries name and that are held too, [`RECEIPT_PHOTOS`] at most.
    pub photos: BTreeSet<PhotoHash>,
    /// How safely.
    pub grade: Grade,
}

impl Receipt {
    /// Returns whether it names photos and nothing else: older ones than fit into the receipt beside which it stands. It
    /// never takes the place of one with runs, nor of another like it.
    #[must_use]
    pub fn names_photos_alone(&self) -> bool {
        self.runs.is_empty() && !self.photos.is_empty()
    }
}

mod key {
    pub(super) const EPOCH: u64 = 1;
    pub(super) const LOG: u64 = 2;
    pub(super) const RUNS: u64 = 3;
    pub(super) const PHOTOS: u64 = 4;
    pub(super) const GRADE: u64 = 5;
}

body_methods!(Receipt);

impl Body for Receipt {
    const KIND: Kind = RECEIPT;
    const VERSION: u32 = RECEIPT_VERSION;
    const NAME: &'static str = "receipt";
    const VERSIONED: &'static str = "receipt version";

    fn write(&self, map: &mut Map) -> Written {
        map.some(key::EPOCH, self.epoch.as_ref(), |out, epoch| Ok(out.bytes(&epoch.0)?.ok()?))?;
        map.put(key::LOG, |out| Ok(out.bytes(&self.log.0)?.ok()?))?;
        map.list(key::RUNS, &self.runs, write_run)?;
        map.list(key::PHOTOS, &self.photos, |out, photo| Ok(out.bytes(&photo.0)?.ok()?))?;
        map.put(key::GRADE, |out| Ok(out.str(self.grade.word())?.ok()?))
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Receipt, Error> {
        let photos = map.list(key::PHOTOS, "receipt.photos", |from| bytes(from, "receipt.photos"))?;
        Ok(Receipt {
            epoch: map.some(key::EPOCH, |from| bytes(from, "receipt.epoch"))?.map(Epoch),
            log: LogId(map.need(key::LOG, |from| bytes(from, "receipt.log"))?),
            runs: map.list(key::RUNS, "receipt.runs", read_run)?,
            // One that is out of order or stands twice shows when the body is compared with what would be written.
            photos: photos.into_iter().map(PhotoHash).collect(),
            grade: map.need(key::GRADE, |from| word(from, "receipt.grade", Grade::from_word))?,
        })
    }

    fn check(&self) -> Result<(), &'static str> {
        if self.epoch.is_none() != (self.grade == Grade::Relayed) {
            return Err("receipt.epoch");
        }
        if self.photos.len() > RECEIPT_PHOTOS {
            return Err("receipt.photos");
        }
        let ends: BTreeSet<_> = self.runs.iter().map(|run| run.end).collect();
        let forwards = self.runs.iter().all(|run| run.from <= run.to);
        let sound = forwards && self.runs.is_sorted() && ends.len() == self.runs.len();
        if sound { Ok(()) } else { Err("receipt.runs") }
    }
}

fn write_run(out: &mut Out, run: &HeldRun) -> Written {
    Ok(out.array(3)?.u64(run.from.get())?.u64(run.to.get())?.bytes(&run.end.0)?.ok()?)
}

fn read_run(from: &mut Read<'_>) -> Result<HeldRun, Error> {
    let place = "receipt.runs";
    row(from, 3, place)?;
    Ok(HeldRun { from: seq(from, place)?, to: seq(from, place)?, end: PayloadHash(bytes(from, place)?) })
}
