//! Taking bytes for entries: whatever the carrier, each is opened and verified here, and a bad one stops no other.

use std::collections::BTreeMap;

use record::{EntryId, Kind, LogId, PayloadHash, Proof, PublicKey};

use crate::Error;
use crate::bundle::Piece;
use crate::run::Step;

/// An entry that was opened and whose signature holds. What it means, and whether its signer is known, is not said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrived {
    /// Its identity.
    pub id: EntryId,
    /// The payload it names as the one before.
    pub previous: Option<PayloadHash>,
    /// What it is.
    pub kind: Kind,
    /// All of it, exactly as it came.
    pub bytes: Vec<u8>,
}

impl Arrived {
    /// Takes up an entry that was verified.
    #[must_use]
    pub fn of(entry: &record::Entry<'_>) -> Arrived {
        let header = &entry.header;
        Arrived { id: entry.id, previous: header.previous, kind: header.kind, bytes: entry.bytes.to_vec() }
    }

    /// Returns it as runs see it.
    #[must_use]
    pub fn step(&self) -> Step {
        Step { seq: self.id.seq, previous: self.previous, hash: self.id.payload }
    }
}

/// What came, sorted.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Intake {
    /// Keys of logs.
    pub keys: Vec<PublicKey>,
    /// Entries that hold.
    pub entries: Vec<Arrived>,
    /// What does not hold: which piece, and why.
    pub bad: Vec<(usize, Error)>,
}

/// Reads COSE_Keys; the bad ones are left out, and what they would have signed will not verify.
#[must_use]
pub fn keys<'b>(bytes: impl IntoIterator<Item = &'b [u8]>) -> BTreeMap<LogId, PublicKey> {
    let read = bytes.into_iter().filter_map(|bytes| PublicKey::from_cose(bytes).ok());
    read.map(|key| (key.log(), key)).collect()
}

/// Opens and verifies an entry, with a key that `key` knows.
///
/// # Errors
///
/// [`Error::Record`]; [`Error::Malformed`] where the key of its log is not there.
pub fn verified(
    bytes: &[u8],
    key: impl FnOnce(LogId) -> Option<PublicKey>,
    proof: &(impl Proof + ?Sized),
) -> Result<Arrived, Error> {
    let entry = record::open(bytes)?;
    let key = key(entry.id.log).ok_or_else(|| Error::Malformed("the key of its log is missing".into()))?;
    record::verify_with(&entry, &key, proof)?;
    Ok(Arrived::of(&entry))
}

/// Sorts entries that came with the keys of their logs. `known` knows keys that came before.
pub fn entries<'b>(
    bytes: impl IntoIterator<Item = &'b [u8]>,
    keys: &BTreeMap<LogId, PublicKey>,
    known: impl Fn(LogId) -> Option<PublicKey>,
    proof: &(impl Proof + ?Sized),
) -> Intake {
    let mut intake = Intake { keys: keys.values().cloned().collect(), ..Intake::default() };
    for (at, bytes) in bytes.into_iter().enumerate() {
        match verified(bytes, |log| keys.get(&log).cloned().or_else(|| known(log)), proof) {
            Ok(arrived) => intake.entries.push(arrived),
            Err(error) => intake.bad.push((at, error)),
        }
    }
    intake
}

/// Sorts the keys and entries of a bundle.
pub fn bundle(
    pieces: &[Piece<'_>],
    known: impl Fn(LogId) -> Option<PublicKey>,
    proof: &(impl Proof + ?Sized),
) -> Intake {
    let keys = keys(pieces.iter().filter_map(|piece| match piece {
        Piece::Key(bytes) => Some(*bytes),
        _ => None,
    }));
    let each = pieces.iter().filter_map(|piece| match piece {
        Piece::Entry(bytes) => Some(*bytes),
        _ => None,
    });
    entries(each, &keys, known, proof)
}
