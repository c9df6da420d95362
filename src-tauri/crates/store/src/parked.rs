//! Entries of logs that nobody vouched for yet.
//!
//! They are kept and passed on: whoever works before being enrolled must not lose it. But anyone can make keys, so
//! there are limits, by who brought them and by log. Once a certificate comes, a log's entries are adopted, all of
//! them at once.

use std::collections::BTreeMap;

use rusqlite::{Connection, params};

use crate::{Error, LogId, NewEntry, Place, Store, Taken, log, taken};

/// The most bytes that are parked of what one carrier brought.
pub const MOST_PARKED_BYTES: u64 = 64 << 20;

/// The most entries that are parked of one log.
pub const MOST_PARKED_ENTRIES: u32 = 1_000;

impl Store {
    /// Returns the entries that are parked, in the order they came.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn parked(&self) -> Result<Vec<NewEntry>, Error> {
        self.read(|connection| {
            let sql = format!("SELECT {} FROM parked ORDER BY arrival", log::COLUMNS);
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map([], log::raw)?;
            rows.map(|row| Ok(row?.proved()?.entry)).collect()
        })
    }

    /// Returns the logs of which something is parked.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn parked_logs(&self) -> Result<Vec<LogId>, Error> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached("SELECT DISTINCT log FROM parked ORDER BY log")?;
            Ok(statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?)
        })
    }

    /// Returns up to `most` parked entries of a log from a place on, in their order.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn parked_entries(&self, from: Place, most: u32) -> Result<Vec<NewEntry>, Error> {
        self.read(|connection| {
            let sql = format!(
                "SELECT {} FROM parked WHERE log = ?1 AND seq >= ?2 ORDER BY seq, arrival LIMIT ?3",
                log::COLUMNS
            );
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map(params![from.log, from.seq, most], log::raw)?;
            rows.map(|row| Ok(row?.proved()?.entry)).collect()
        })
    }
}

/// How much is parked already: read once for all that one carrier brings together.
#[derive(Debug, Default)]
pub(crate) struct Room {
    carried: Option<u64>,
    of_log: BTreeMap<LogId, u32>,
}

impl Room {
    /// Takes room for an entry, and returns whether there was any.
    fn take(&mut self, connection: &Connection, carrier: &str, entry: &NewEntry) -> Result<bool, Error> {
        let carried = match self.carried {
            Some(carried) => carried,
            None => carried(connection, carrier)?,
        };
        let of_log = match self.of_log.get(&entry.place.log) {
            Some(of_log) => *of_log,
            None => of_log(connection, entry.place.log)?,
        };
        let after = carried.saturating_add(entry.bytes.len() as u64);
        let has_room = of_log < MOST_PARKED_ENTRIES && after <= MOST_PARKED_BYTES;
        self.carried = Some(if has_room { after } else { carried });
        self.of_log.insert(entry.place.log, of_log + u32::from(has_room));
        Ok(has_room)
    }
}

fn carried(connection: &Connection, carrier: &str) -> Result<u64, Error> {
    let bytes: i64 = connection
        .prepare_cached("SELECT coalesce(sum(length(bytes)), 0) FROM parked WHERE carrier = ?1")?
        .query_row([carrier], |row| row.get(0))?;
    Ok(u64::try_from(bytes).unwrap_or(u64::MAX))
}

fn of_log(connection: &Connection, log: LogId) -> Result<u32, Error> {
    Ok(connection
        .prepare_cached("SELECT count(*) FROM parked WHERE log = ?1")?
        .query_row([log], |row| row.get(0))?)
}

/// Parks an entry, if there is room.
pub(crate) fn park(
    connection: &Connection,
    carrier: &str,
    entry: &NewEntry,
    room: &mut Room,
) -> Result<Taken, Error> {
    if taken::is_parked(connection, entry)? {
        return Ok(Taken::Parked);
    }
    if !room.take(connection, carrier, entry)? {
        return Ok(Taken::NoRoom);
    }
    let previous = entry.previous.as_ref().map_or(&[][..], |hash| &hash.0);
    connection
        .prepare_cached(
            "INSERT INTO parked (carrier, log, seq, hash, previous, kind, bytes, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?
        .execute(params![
            carrier,
            entry.place.log,
            entry.place.seq,
            entry.hash,
            previous,
            entry.kind,
            entry.bytes,
            log::seal(entry).done()
        ])?;
    Ok(Taken::Parked)
}

/// Takes the entries of a log out of the table, lowest place first.
pub(crate) fn leave(connection: &Connection, log: LogId) -> Result<Vec<NewEntry>, Error> {
    let sql = format!("SELECT {} FROM parked WHERE log = ?1 ORDER BY seq, arrival", log::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let rows = statement.query_map([log], log::raw)?;
    let entries = rows.map(|row| Ok(row?.proved()?.entry)).collect::<Result<Vec<_>, Error>>()?;
    connection.prepare_cached("DELETE FROM parked WHERE log = ?1")?.execute([log])?;
    Ok(entries)
}
