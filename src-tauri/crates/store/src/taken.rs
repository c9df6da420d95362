//! Entries that others brought: in any order, with places missing, forked, of kinds nobody here knows.
//!
//! All of it is kept and passed on as it came. An entry of a log that nobody vouched for is parked, up to a limit;
//! what goes beyond is refused for now and may come again. Nothing here orders by a clock, and nothing that came
//! is dropped because something else was wrong.

use rusqlite::{Connection, OptionalExtension, params};

use crate::parked::Room;
use crate::{Arrival, Error, LogId, NewEntry, Store, known, log, parked};

/// What became of an entry that was brought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// It is new, and in.
    New(Arrival),
    /// It was here already.
    Already(Arrival),
    /// It is in, and another payload stands at its place: a fork, which people have to be told.
    Fork(Arrival),
    /// Nobody vouched for its log yet: it is kept aside, or was already.
    Parked,
    /// It would be parked, and there is no more room for that. It may come again later.
    NoRoom,
}

impl Store {
    /// Takes in entries that were verified, in one transaction, and says what became of each, in their order.
    /// `carrier` names who brought them.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives; none of them is then in.
    pub fn take_in(&self, carrier: &str, entries: &[NewEntry]) -> Result<Vec<Taken>, Error> {
        self.write(|transaction| {
            let mut room = Room::default();
            entries.iter().map(|entry| take(transaction, carrier, entry, &mut room)).collect()
        })
    }
}

/// Takes in one entry within a transaction.
pub(crate) fn take(
    connection: &Connection,
    carrier: &str,
    entry: &NewEntry,
    room: &mut Room,
) -> Result<Taken, Error> {
    if let Some(arrival) = held(connection, entry)? {
        return Ok(Taken::Already(arrival));
    }
    if !known::is_known(connection, entry.place.log)? {
        return parked::park(connection, carrier, entry, room);
    }
    let forks = log::standing(connection, entry.place)?.is_some();
    let arrival = log::add(connection, entry)?;
    Ok(if forks { Taken::Fork(arrival) } else { Taken::New(arrival) })
}

/// Takes in all that was parked of a log, now that somebody vouched for it.
pub(crate) fn adopt(connection: &Connection, log: LogId) -> Result<u32, Error> {
    let mut adopted = 0;
    for entry in parked::leave(connection, log)? {
        if held(connection, &entry)?.is_none() {
            log::add(connection, &entry)?;
            adopted += 1;
        }
    }
    Ok(adopted)
}

/// Returns when exactly this entry came.
pub(crate) fn held(connection: &Connection, entry: &NewEntry) -> Result<Option<Arrival>, Error> {
    let arrival = connection
        .prepare_cached("SELECT arrival FROM entry WHERE log = ?1 AND seq = ?2 AND hash = ?3")?
        .query_row(params![entry.place.log, entry.place.seq, entry.hash], |row| Ok(Arrival(row.get(0)?)))
        .optional()?;
    Ok(arrival)
}

/// Returns whether exactly this entry is parked.
pub(crate) fn is_parked(connection: &Connection, entry: &NewEntry) -> Result<bool, Error> {
    Ok(connection
        .prepare_cached("SELECT 1 FROM parked WHERE log = ?1 AND seq = ?2 AND hash = ?3")?
        .exists(params![entry.place.log, entry.place.seq, entry.hash])?)
}
