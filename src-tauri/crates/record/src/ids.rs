//! Names of things: each a type of its own, so that a log's name is never taken for a hash.

use std::fmt;

use sha2::{Digest, Sha256};

/// Writes the first eight bytes: enough to tell things apart in a message.
fn short(bytes: &[u8; 32], out: &mut fmt::Formatter<'_>) -> fmt::Result {
    bytes.iter().take(8).try_for_each(|byte| write!(out, "{byte:02x}"))
}

macro_rules! sha256 {
    ($($(#[$doc:meta])* $name:ident)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub [u8; 32]);

        impl $name {
            /// Returns the hash of these bytes.
            #[must_use]
            pub fn of(bytes: &[u8]) -> $name {
                $name(Sha256::digest(bytes).into())
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                short(&self.0, out)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                short(&self.0, out)
            }
        }
    )*};
}

sha256! {
    /// A log's name: SHA-256 of the COSE_Key that signs it.
    LogId
    /// SHA-256 of an entry's payload: what the next entry names, and part of the entry's identity.
    PayloadHash
    /// SHA-256 of an entry's body.
    BodyHash
}

/// A place within a log: 1 for the first entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seq(u64);

impl Seq {
    /// The first place.
    pub const FIRST: Seq = Seq(1);

    /// The last place there can be: databases keep whole numbers with a sign.
    pub const LAST: Seq = Seq(i64::MAX.unsigned_abs());

    /// Returns the place with this number; `None` outside 1 to [`Seq::LAST`].
    #[must_use]
    pub fn new(number: u64) -> Option<Seq> {
        (Seq::FIRST.0..=Seq::LAST.0).contains(&number).then_some(Seq(number))
    }

    /// Returns the number.
    #[must_use]
    pub fn get(self) -> u64 {
        self.0
    }

    /// Returns the place after this one; `None` at the very last.
    #[must_use]
    pub fn next(self) -> Option<Seq> {
        Seq::new(self.0.saturating_add(1))
    }
}

impl fmt::Display for Seq {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(out)
    }
}

/// What an entry is. The numbers are listed in `FORMAT.md`; one that is not listed is kept like any other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Kind(pub u32);

/// The identity of an entry. Two entries at one place with different payloads are two entries: a fork.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryId {
    /// Whose log.
    pub log: LogId,
    /// Which place.
    pub seq: Seq,
    /// What stands there.
    pub payload: PayloadHash,
}

impl fmt::Display for EntryId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "record {} of key {}", self.seq, self.log)
    }
}
