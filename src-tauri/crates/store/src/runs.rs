//! What is held of each log, as runs of its chain: a view of the entries, kept in the same transactions.
//!
//! A log is loaded with all its runs, of which there is one unless something is missing or forked, and written back
//! as far as they changed.

use std::collections::BTreeMap;

use exchange::have::HaveSet;
use exchange::run::{Run, Runs, Step};
use rusqlite::{Connection, Row, params};

use crate::seal::Seal;
use crate::{Error, LogId, NewEntry, PayloadHash, Place, Seq, Store};

impl Store {
    /// Returns what is held of a log.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when a row is not as it was written, and what storage gives.
    pub fn runs(&self, log: LogId) -> Result<Runs, Error> {
        self.read(|connection| runs_of(connection, log))
    }

    /// Returns what is held of all logs.
    ///
    /// # Errors
    ///
    /// As [`Store::runs`].
    pub fn have(&self) -> Result<HaveSet, Error> {
        self.read(|connection| {
            let mut have = HaveSet::default();
            for (log, runs) in all(connection)? {
                have.put(log.of_record(), &runs);
            }
            Ok(have)
        })
    }

    /// Returns the logs of which two payloads stand at one place. Both branches are kept; people have to be told.
    ///
    /// # Errors
    ///
    /// As [`Store::runs`].
    pub fn forked(&self) -> Result<Vec<LogId>, Error> {
        self.read(|connection| {
            let forked = all(connection)?.into_iter().filter(|(_, runs)| runs.has_fork());
            Ok(forked.map(|(log, _)| log).collect())
        })
    }
}

const COLUMNS: &str = "log, first, last, finish, before, rooted, seal";

/// Returns the runs of all logs.
pub(crate) fn all(connection: &Connection) -> Result<BTreeMap<LogId, Runs>, Error> {
    let mut statement = connection.prepare_cached(&format!("SELECT {COLUMNS} FROM run ORDER BY log"))?;
    let mut by_log: BTreeMap<LogId, Vec<Run>> = BTreeMap::new();
    for row in statement.query_map([], raw)? {
        let (log, run) = row?.proved()?;
        by_log.entry(log).or_default().push(run);
    }
    Ok(by_log.into_iter().map(|(log, runs)| (log, Runs::of(runs))).collect())
}

/// Returns the runs of one log.
pub(crate) fn runs_of(connection: &Connection, log: LogId) -> Result<Runs, Error> {
    let mut statement = connection.prepare_cached(&format!("SELECT {COLUMNS} FROM run WHERE log = ?1"))?;
    let rows = statement.query_map([log], raw)?;
    let runs = rows.map(|row| Ok(row?.proved()?.1)).collect::<Result<Vec<_>, Error>>()?;
    Ok(Runs::of(runs))
}

/// Takes an entry into the runs of its log, which was just added and was not held before.
pub(crate) fn add(connection: &Connection, entry: &NewEntry) -> Result<(), Error> {
    let Some(seq) = entry.place.seq.of_record() else {
        return Err(Error::Broken { what: "a record has no place".to_owned() });
    };
    let before = runs_of(connection, entry.place.log)?;
    let parent_held = parent_is_held(connection, entry)?;
    let step =
        Step { seq, previous: entry.previous.map(PayloadHash::of_record), hash: entry.hash.of_record() };
    let mut after = before.clone();
    after.add(step, parent_held);
    for gone in before.all().iter().filter(|run| !after.all().contains(run)) {
        connection
            .prepare_cached("DELETE FROM run WHERE log = ?1 AND finish = ?2")?
            .execute(params![entry.place.log, PayloadHash::of(gone.end)])?;
    }
    for new in after.all().iter().filter(|run| !before.all().contains(run)) {
        insert(connection, entry.place.log, new)?;
    }
    Ok(())
}

/// Makes the runs anew from the entries.
pub(crate) fn rebuild(connection: &Connection) -> Result<(), Error> {
    connection.execute("DELETE FROM run", [])?;
    crate::log::each(connection, |entry| add(connection, &entry.entry))
}

/// Whether the payload that an entry names as the one before it is held.
fn parent_is_held(connection: &Connection, entry: &NewEntry) -> Result<bool, Error> {
    let Some((previous, seq)) = entry.previous.zip(entry.place.seq.0.checked_sub(1)) else {
        return Ok(true);
    };
    crate::log::holds(connection, Place { log: entry.place.log, seq: Seq(seq) }, previous)
}

fn insert(connection: &Connection, log: LogId, run: &Run) -> Result<(), Error> {
    let before = run.before.as_ref().map_or(&[][..], |hash| &hash.0);
    connection
        .prepare_cached(
            "INSERT INTO run (log, first, last, finish, before, rooted, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )?
        .execute(params![
            log,
            Seq::of(run.from),
            Seq::of(run.to),
            PayloadHash::of(run.end),
            before,
            run.rooted,
            seal(log, run).done()
        ])?;
    Ok(())
}

fn seal(log: LogId, run: &Run) -> Seal {
    Seal::of("run")
        .bytes(&log.0)
        .bytes(&run.from.get().to_be_bytes())
        .bytes(&run.to.get().to_be_bytes())
        .bytes(&run.end.0)
        .bytes(run.before.as_ref().map_or(&[], |hash| &hash.0))
        .number(i64::from(run.rooted))
}

/// A row as it was read, not yet compared with its seal.
struct Raw {
    log: LogId,
    first: Seq,
    last: Seq,
    end: PayloadHash,
    before: Option<PayloadHash>,
    rooted: bool,
    seal: Vec<u8>,
}

impl Raw {
    fn proved(self) -> Result<(LogId, Run), Error> {
        let broken = || Error::Unreadable {
            what: "what is held of a key's records is not as it was written".to_owned(),
        };
        let run = Run {
            from: self.first.of_record().ok_or_else(broken)?,
            to: self.last.of_record().ok_or_else(broken)?,
            end: self.end.of_record(),
            before: self.before.map(PayloadHash::of_record),
            rooted: self.rooted,
        };
        seal(self.log, &run).check(&self.seal, "what is held of a log")?;
        Ok((self.log, run))
    }
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    let before: Vec<u8> = row.get(4)?;
    Ok(Raw {
        log: row.get(0)?,
        first: row.get(1)?,
        last: row.get(2)?,
        end: row.get(3)?,
        before: if before.is_empty() { None } else { Some(row.get(4)?) },
        rooted: row.get(5)?,
        seal: row.get(6)?,
    })
}
