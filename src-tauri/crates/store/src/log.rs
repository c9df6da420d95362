//! The log: entries exactly as they were signed, one after the other, for ever.
//!
//! Each log is a chain: places count from 1 without a gap, and each entry names the hash of the payload before
//! it. [`Store::append`] is for the log that this phone writes and checks both in the transaction that adds the
//! entry. Entries of others come by [`Store::take_in`], in any order. Neither judges the bytes: that they are well
//! formed, carry this hash and are truly signed is `record`'s to say before they come here.
//!
//! Appending is safe to repeat: the same payload at the same place is there already, and says so. Another
//! payload at a place that is taken is refused, and the first one stays.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Error, Kind, LogId, PayloadHash, Place, Seq, Store, runs, views};

/// An entry to be added.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// Where it stands.
    pub place: Place,
    /// Hash of its payload.
    pub hash: PayloadHash,
    /// Hash of the payload before it; none for the first.
    pub previous: Option<PayloadHash>,
    /// What it is.
    pub kind: Kind,
    /// All of it, exactly.
    pub bytes: Vec<u8>,
}

/// The order in which entries came to this phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Arrival(pub i64);

/// An entry of the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// When it came, among all entries here.
    pub arrival: Arrival,
    /// What was added.
    pub entry: NewEntry,
}

/// The end of a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tip {
    /// The last place.
    pub seq: Seq,
    /// The hash of the payload there: what the next entry names as previous.
    pub hash: PayloadHash,
}

/// What came of appending.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Appended {
    /// It is new, and in.
    New(Arrival),
    /// The same payload stood at this place already.
    Already(Arrival),
}

impl Appended {
    /// Returns when the entry came.
    #[must_use]
    pub fn arrival(self) -> Arrival {
        match self {
            Appended::New(arrival) | Appended::Already(arrival) => arrival,
        }
    }
}

/// The columns of a row that holds an entry, as [`raw`] reads them.
pub(crate) const COLUMNS: &str = "arrival, log, seq, hash, previous, kind, bytes, seal";

impl Store {
    /// Adds an entry at the end of its log.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfStep`] when it does not follow the last one, [`Error::Taken`] when another payload
    /// stands at its place, and what storage gives.
    pub fn append(&self, entry: &NewEntry) -> Result<Appended, Error> {
        self.write(|transaction| append(transaction, entry))
    }

    /// Returns the end of a log, or none when it has no entry.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn tip(&self, log: LogId) -> Result<Option<Tip>, Error> {
        self.read(|connection| tip(connection, log))
    }

    /// Returns the entry at a place; where there is a fork, the one that came first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn entry(&self, place: Place) -> Result<Option<Entry>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached(&format!(
                    "SELECT {COLUMNS} FROM entry WHERE log = ?1 AND seq = ?2 ORDER BY arrival LIMIT 1"
                ))?
                .query_row(params![place.log, place.seq], raw)
                .optional()?;
            found.map(Raw::proved).transpose()
        })
    }

    /// Returns up to `most` entries of a log from a place on, in their order.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn entries(&self, from: Place, most: u32) -> Result<Vec<Entry>, Error> {
        self.read(|connection| {
            let sql = format!(
                "SELECT {COLUMNS} FROM entry WHERE log = ?1 AND seq >= ?2 ORDER BY seq, arrival LIMIT ?3"
            );
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map(params![from.log, from.seq, most], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }

    /// Returns up to `most` entries of all logs, newest first; `before` continues an earlier answer.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn newest(&self, before: Option<Arrival>, most: u32) -> Result<Vec<Entry>, Error> {
        self.read(|connection| {
            let sql =
                format!("SELECT {COLUMNS} FROM entry WHERE arrival < ?1 ORDER BY arrival DESC LIMIT ?2");
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map(params![before.map_or(i64::MAX, |at| at.0), most], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }

    /// Returns all entries of a kind, in the order they came.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn of_kind(&self, kind: Kind) -> Result<Vec<Entry>, Error> {
        self.read(|connection| {
            let sql = format!("SELECT {COLUMNS} FROM entry WHERE kind = ?1 ORDER BY arrival");
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map([kind], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }
}

/// Goes through all entries in the order they came.
pub(crate) fn each(
    connection: &Connection,
    mut take: impl FnMut(&Entry) -> Result<(), Error>,
) -> Result<(), Error> {
    let mut statement = connection.prepare(&format!("SELECT {COLUMNS} FROM entry ORDER BY arrival"))?;
    let rows = statement.query_map([], raw)?;
    rows.into_iter().try_for_each(|row| take(&row?.proved()?))
}

/// Adds an entry within a transaction.
pub(crate) fn append(connection: &Connection, entry: &NewEntry) -> Result<Appended, Error> {
    if let Some((hash, arrival)) = standing(connection, entry.place)? {
        return if hash == entry.hash {
            Ok(Appended::Already(arrival))
        } else {
            Err(Error::Taken { place: entry.place })
        };
    }
    let last = tip(connection, entry.place.log)?;
    let expected = last.map_or(Seq::FIRST, |last| last.seq.next());
    if entry.place.seq != expected || entry.previous != last.map(|last| last.hash) {
        return Err(Error::OutOfStep { expected });
    }
    add(connection, entry).map(Appended::New)
}

/// Adds an entry that is not there yet, and takes it into all views.
pub(crate) fn add(connection: &Connection, entry: &NewEntry) -> Result<Arrival, Error> {
    let arrival = insert(connection, entry)?;
    runs::add(connection, entry)?;
    views::take_up(connection, entry, arrival)?;
    Ok(arrival)
}

fn insert(connection: &Connection, entry: &NewEntry) -> Result<Arrival, Error> {
    let previous = entry.previous.as_ref().map_or(&[][..], |hash| &hash.0);
    connection
        .prepare_cached(
            "INSERT INTO entry (log, seq, hash, previous, kind, bytes, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )?
        .execute(params![
            entry.place.log,
            entry.place.seq,
            entry.hash,
            previous,
            entry.kind,
            entry.bytes,
            seal(entry).done()
        ])?;
    Ok(Arrival(connection.last_insert_rowid()))
}

fn tip(connection: &Connection, log: LogId) -> Result<Option<Tip>, Error> {
    let last = connection
        .prepare_cached("SELECT seq, hash FROM entry WHERE log = ?1 ORDER BY seq DESC, arrival LIMIT 1")?
        .query_row([log], |row| Ok(Tip { seq: row.get(0)?, hash: row.get(1)? }))
        .optional()?;
    Ok(last)
}

/// Returns the first entry that came at a place.
pub(crate) fn standing(
    connection: &Connection,
    place: Place,
) -> Result<Option<(PayloadHash, Arrival)>, Error> {
    let standing = connection
        .prepare_cached(
            "SELECT hash, arrival FROM entry WHERE log = ?1 AND seq = ?2 ORDER BY arrival LIMIT 1",
        )?
        .query_row(params![place.log, place.seq], |row| Ok((row.get(0)?, Arrival(row.get(1)?))))
        .optional()?;
    Ok(standing)
}

/// Returns whether this payload stands at a place.
pub(crate) fn holds(connection: &Connection, place: Place, hash: PayloadHash) -> Result<bool, Error> {
    Ok(connection
        .prepare_cached("SELECT 1 FROM entry WHERE log = ?1 AND seq = ?2 AND hash = ?3")?
        .exists(params![place.log, place.seq, hash])?)
}

/// Returns the entry with this payload at a place.
pub(crate) fn with_payload(
    connection: &Connection,
    place: Place,
    hash: PayloadHash,
) -> Result<Option<Entry>, Error> {
    let found = connection
        .prepare_cached(&format!("SELECT {COLUMNS} FROM entry WHERE log = ?1 AND seq = ?2 AND hash = ?3"))?
        .query_row(params![place.log, place.seq, hash], raw)
        .optional()?;
    found.map(Raw::proved).transpose()
}

/// Returns the seal of an entry's row, which every table of entries has.
pub(crate) fn seal(entry: &NewEntry) -> Seal {
    let seq = entry.place.seq.0.to_be_bytes();
    Seal::of("entry")
        .bytes(&entry.place.log.0)
        .bytes(&seq)
        .bytes(&entry.hash.0)
        .bytes(entry.previous.as_ref().map_or(&[], |hash| &hash.0))
        .bytes(&entry.kind.0.to_be_bytes())
        .bytes(&entry.bytes)
}

/// A row as it was read, not yet compared with its seal.
pub(crate) struct Raw(Entry, Vec<u8>);

impl Raw {
    pub(crate) fn proved(self) -> Result<Entry, Error> {
        seal(&self.0.entry).check(&self.1, &format!("the record at {}", self.0.entry.place))?;
        Ok(self.0)
    }
}

pub(crate) fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    let previous: Vec<u8> = row.get(4)?;
    let entry = NewEntry {
        place: Place { log: row.get(1)?, seq: row.get(2)? },
        hash: row.get(3)?,
        previous: if previous.is_empty() { None } else { Some(row.get(4)?) },
        kind: row.get(5)?,
        bytes: row.get(6)?,
    };
    Ok(Raw(Entry { arrival: Arrival(row.get(0)?), entry }, row.get(7)?))
}
