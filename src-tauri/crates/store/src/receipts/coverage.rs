//! Which entries of a log are held elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{Grade, HeldRun};
use rusqlite::{Connection, Row, params};

use super::held::{Of, run_seal};
use crate::{Error, LogId, PayloadHash, Place, Seq, chain, marks, runs};

/// What of a log is held elsewhere: pieces of our own chain, each with how safely.
#[derive(Debug, Default)]
pub(super) struct Coverage {
    pieces: Vec<Held>,
}

/// A piece of our chain that is held elsewhere.
#[derive(Debug)]
struct Held {
    grade: Grade,
    first: Seq,
    last: Seq,
    /// The payloads of the branch, where the log is forked; without a fork its places say enough.
    branch: Option<BTreeSet<PayloadHash>>,
}

impl Coverage {
    /// Works out what counts of a log.
    pub(super) fn of(connection: &Connection, log: LogId) -> Result<Coverage, Error> {
        let forked = runs::runs_of(connection, log)?.has_fork();
        let mut pieces = Vec::new();
        for (grade, run) in graded(connection, log)? {
            let (first, last) = (Seq::of(run.from), Seq::of(run.to));
            let end = PayloadHash::of(run.end);
            if !crate::log::holds(connection, Place { log, seq: last }, end)? {
                continue;
            }
            let branch =
                forked.then(|| chain::leading_to(connection, log, first, (last, end))).transpose()?;
            pieces.push(Held { grade, first, last, branch });
        }
        Ok(Coverage { pieces })
    }

    /// Returns how safely an entry is held elsewhere; none where it is not.
    pub(super) fn grade(&self, seq: Seq, hash: PayloadHash) -> Option<Grade> {
        let holds = |held: &&Held| {
            let within = held.first <= seq && seq <= held.last;
            within && held.branch.as_ref().is_none_or(|branch| branch.contains(&hash))
        };
        self.pieces.iter().filter(holds).map(|held| held.grade).max()
    }
}

/// What the receipts that count say of a log, whatever their grade.
pub(crate) fn said(connection: &Connection, log: LogId) -> Result<Vec<HeldRun>, Error> {
    Ok(graded(connection, log)?.into_iter().map(|(_, run)| run).collect())
}

/// What this phone's own receipts say that it passed on, by log.
pub(crate) fn passed_on(connection: &Connection) -> Result<BTreeMap<LogId, Vec<HeldRun>>, Error> {
    let mut statement = connection.prepare_cached(
        "SELECT issuer, epoch, grade, first, last, finish, seal, log FROM receipt_run \
         WHERE issuer IN (SELECT log FROM identity) AND grade = ?1",
    )?;
    let rows =
        statement.query_map([Grade::Relayed.word()], |row| Ok((raw(row)?, row.get::<_, LogId>(7)?)))?;
    let mut passed_on = BTreeMap::<LogId, Vec<HeldRun>>::new();
    for row in rows {
        let (row, log) = row?;
        passed_on.entry(log).or_default().push(row.proved(log)?.1);
    }
    Ok(passed_on)
}

/// What the receipts that count say of a log: the hub's of its present epoch, and other phones'.
fn graded(connection: &Connection, log: LogId) -> Result<Vec<(Grade, HeldRun)>, Error> {
    let epoch = marks::epoch(connection)?.map_or_else(Vec::new, |epoch| epoch.0.to_vec());
    let mut statement = connection.prepare_cached(
        "SELECT issuer, epoch, grade, first, last, finish, seal FROM receipt_run WHERE log = ?1 AND ( \
         (epoch = ?2 AND epoch <> x'' AND issuer IN (SELECT log FROM hub_log WHERE epoch = ?2)) \
         OR (epoch = x'' AND issuer NOT IN (SELECT log FROM identity)))",
    )?;
    let rows = statement.query_map(params![log, epoch], raw)?;
    rows.map(|row| row?.proved(log)).collect()
}

/// A row as it was read, not yet compared with its seal.
struct Raw {
    issuer: LogId,
    epoch: Vec<u8>,
    grade: String,
    first: Seq,
    last: Seq,
    finish: PayloadHash,
    seal: Vec<u8>,
}

impl Raw {
    fn proved(self, log: LogId) -> Result<(Grade, HeldRun), Error> {
        let broken = || Error::Unreadable { what: "what a receipt says is not as it was written".to_owned() };
        let grade = Grade::from_word(&self.grade).ok_or_else(broken)?;
        let run = HeldRun {
            from: self.first.of_record().ok_or_else(broken)?,
            to: self.last.of_record().ok_or_else(broken)?,
            end: self.finish.of_record(),
        };
        let of = Of { issuer: self.issuer, epoch: self.epoch, log, grade: grade.word() };
        run_seal(&of, &run).check(&self.seal, "what a receipt says")?;
        Ok((grade, run))
    }
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    Ok(Raw {
        issuer: row.get(0)?,
        epoch: row.get(1)?,
        grade: row.get(2)?,
        first: row.get(3)?,
        last: row.get(4)?,
        finish: row.get(5)?,
        seal: row.get(6)?,
    })
}
