//! What a hub holds, read from a bundle of all its records.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Result, ensure};
use exchange::bundle::{self, MOST, Piece};
use exchange::packed;
use record::{EntryId, LogId};

/// The names of all entries, each as often as it came.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Held(BTreeMap<EntryId, u32>);

impl Held {
    /// Reads a bundle as it is written to a file.
    ///
    /// # Errors
    ///
    /// When it is none, is cut, or holds what is no entry.
    pub fn read(file: &[u8]) -> Result<Held> {
        let unpacked = packed::unpack(file, MOST)?;
        let (pieces, cut) = bundle::read(&unpacked)?;
        ensure!(cut.is_none(), "the bundle is cut");
        let mut held = Held::default();
        for piece in pieces {
            if let Piece::Entry(bytes) = piece {
                *held.0.entry(record::open(bytes)?.id).or_default() += 1;
            }
        }
        Ok(held)
    }

    /// Returns which of these it does not hold.
    #[must_use]
    pub fn lacking(&self, ids: &[EntryId]) -> Vec<EntryId> {
        ids.iter().filter(|id| !self.0.contains_key(id)).copied().collect()
    }

    /// Returns what it holds more than once: the same entry, or two entries at one place of a log.
    #[must_use]
    pub fn doubled(&self) -> Vec<EntryId> {
        let mut places = BTreeSet::new();
        let twice = self.0.iter().filter(|(id, times)| !places.insert((id.log, id.seq)) || **times > 1);
        twice.map(|(id, _)| *id).collect()
    }

    /// Returns what it holds and another does not.
    #[must_use]
    pub fn without(&self, other: &Held) -> Vec<EntryId> {
        self.0.keys().filter(|id| !other.0.contains_key(id)).copied().collect()
    }

    /// Returns how many entries of a log it holds.
    #[must_use]
    pub fn count(&self, log: LogId) -> usize {
        self.0.keys().filter(|id| id.log == log).count()
    }
}
