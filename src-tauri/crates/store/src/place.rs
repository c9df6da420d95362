//! Names of things in the log, and the moment a clock claimed.

use std::fmt;

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};

/// A log's name: SHA-256 of the public key that signs it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LogId(pub [u8; 32]);

/// SHA-256 of an entry's payload.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PayloadHash(pub [u8; 32]);

/// A place within a log, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seq(pub u64);

/// What an entry is, as the record format numbers it. Unknown numbers are kept like any other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Kind(pub u64);

/// A moment as the phone's clock claimed it: milliseconds since 1970-01-01T00:00Z. It informs people and orders
/// nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Claimed(pub i64);

/// Where an entry stands: whose log, and which place in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Whose log.
    pub log: LogId,
    /// Which place.
    pub seq: Seq,
}

impl LogId {
    /// Takes up a name as records have it.
    #[must_use]
    pub fn of(log: record::LogId) -> LogId {
        LogId(log.0)
    }

    /// Returns the name as records have it.
    #[must_use]
    pub fn of_record(self) -> record::LogId {
        record::LogId(self.0)
    }
}

impl PayloadHash {
    /// Takes up a hash as records have it.
    #[must_use]
    pub fn of(hash: record::PayloadHash) -> PayloadHash {
        PayloadHash(hash.0)
    }

    /// Returns the hash as records have it.
    #[must_use]
    pub fn of_record(self) -> record::PayloadHash {
        record::PayloadHash(self.0)
    }
}

impl Seq {
    /// Takes up a place as records have it.
    #[must_use]
    pub fn of(seq: record::Seq) -> Seq {
        Seq(seq.get())
    }

    /// Returns the place as records have it; none for what is no place.
    #[must_use]
    pub fn of_record(self) -> Option<record::Seq> {
        record::Seq::new(self.0)
    }

    /// The first place of a log.
    pub const FIRST: Seq = Seq(1);

    /// Returns the place after this one; at the end of all numbers, the same.
    #[must_use]
    pub fn next(self) -> Seq {
        Seq(self.0.saturating_add(1))
    }
}

impl fmt::Display for Seq {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "place {} of key {:?}", self.seq, self.log)
    }
}

/// Writes the first eight bytes: enough to tell logs apart on a screen.
fn short(bytes: &[u8; 32], f: &mut fmt::Formatter<'_>) -> fmt::Result {
    bytes.iter().take(8).try_for_each(|byte| write!(f, "{byte:02x}"))
}

macro_rules! thirty_two_bytes {
    ($name:ident) => {
        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                short(&self.0, f)
            }
        }

        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                Ok(ToSqlOutput::Borrowed(ValueRef::Blob(&self.0)))
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<$name> {
                <[u8; 32]>::column_result(value).map($name)
            }
        }
    };
}

thirty_two_bytes!(LogId);
thirty_two_bytes!(PayloadHash);

/// SQLite's integers are signed; a number above them is refused on the way in and cannot come out.
macro_rules! unsigned {
    ($name:ident) => {
        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                i64::try_from(self.0)
                    .map(ToSqlOutput::from)
                    .map_err(|error| rusqlite::Error::ToSqlConversionFailure(Box::new(error)))
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<$name> {
                let number = value.as_i64()?;
                u64::try_from(number).map($name).map_err(|_| FromSqlError::OutOfRange(number))
            }
        }
    };
}

unsigned!(Seq);
unsigned!(Kind);
