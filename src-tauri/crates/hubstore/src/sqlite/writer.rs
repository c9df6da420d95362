//! The thread that writes. What waits when it begins a transaction is committed together: one sync for all.

use rusqlite::Connection;
use tokio::sync::mpsc::Receiver;

use super::statement::Statements;
use crate::Error;
use crate::sql::Sql;

/// The most jobs of one commit.
const TOGETHER: usize = 64;

/// A job: does its work in the transaction it is given, or hears why there is none.
pub(super) type Job = Box<dyn FnOnce(Result<&mut dyn Sql, Error>) -> Ran + Send>;

/// A job that has done its work and waits for the commit.
pub(super) struct Ran {
    /// Why its work was in vain.
    pub(super) failed: Option<Error>,
    /// Answers whoever waits; with an error when the commit failed.
    pub(super) answer: Box<dyn FnOnce(Option<Error>) + Send>,
}

/// Writes until nobody can send jobs any more.
pub(super) fn write(connection: &Connection, mut jobs: Receiver<Job>) {
    while let Some(first) = jobs.blocking_recv() {
        together(connection, first, &mut jobs);
    }
}

fn together(connection: &Connection, first: Job, jobs: &mut Receiver<Job>) {
    if let Err(error) = connection.execute_batch("BEGIN IMMEDIATE") {
        let ran = first(Err(error.into()));
        (ran.answer)(None);
        return;
    }
    let mut done = Vec::new();
    let mut next = Some(first);
    let mut broken = None;
    while let Some(job) = next {
        let (ran, error) = alone(connection, job);
        done.push(ran);
        broken = error;
        if broken.is_some() || done.len() >= TOGETHER {
            break;
        }
        next = jobs.try_recv().ok();
    }
    let outcome = broken.or_else(|| commit(connection).err());
    for ran in done {
        (ran.answer)(outcome.clone());
    }
}

/// Runs one job so that it can be taken back without the others. The error is one that took all of them back: a full
/// disk makes SQLite end the whole transaction.
fn alone(connection: &Connection, job: Job) -> (Ran, Option<Error>) {
    if let Err(error) = connection.execute_batch("SAVEPOINT job") {
        return (job(Err(error.into())), None);
    }
    let ran = job(Ok(&mut Statements(connection)));
    let end = if ran.failed.is_some() { "ROLLBACK TO job; RELEASE job" } else { "RELEASE job" };
    let ended = connection.execute_batch(end);
    let lost = ran.failed.clone().filter(|_| connection.is_autocommit());
    (ran, lost.or_else(|| ended.err().map(Error::from)))
}

fn commit(connection: &Connection) -> Result<(), Error> {
    connection.execute_batch("COMMIT").map_err(|error| {
        // A commit that failed may have left the transaction open; the next one has to be able to begin.
        if !connection.is_autocommit() && connection.execute_batch("ROLLBACK").is_err() {
            tracing::error!("a transaction of the hub's file could not be taken back");
        }
        Error::from(error)
    })
}
