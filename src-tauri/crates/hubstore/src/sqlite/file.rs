//! The open file: a thread that writes, and connections that read.

use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;

use rusqlite::Connection;
use tokio::sync::mpsc::{Sender, channel};
use tokio::sync::{Semaphore, oneshot};

use super::Opening;
use super::statement::Statements;
use super::writer::{Job, Ran, write};
use crate::Error;
use crate::sql::{Backend, Work};

/// The most readers at once.
const READERS: usize = 6;

/// The most jobs that wait for the writer; who comes then waits to be let in.
const WAITING: usize = 256;

/// An open SQLite file.
pub struct SqliteFile {
    pub(super) opening: Arc<Opening>,
    /// None only while it closes.
    jobs: Option<Sender<Job>>,
    writer: Option<JoinHandle<()>>,
    idle: Arc<Mutex<Vec<Connection>>>,
    readers: Arc<Semaphore>,
}

impl fmt::Debug for SqliteFile {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_struct("SqliteFile").field("opening", &self.opening).finish_non_exhaustive()
    }
}

impl SqliteFile {
    pub(super) fn over(opening: Opening, connection: Connection) -> Result<SqliteFile, Error> {
        let (jobs, waiting) = channel(WAITING);
        let writer = std::thread::Builder::new().name("hubstore-writer".to_owned());
        let writer = writer.spawn(move || write(&connection, waiting));
        let writer = writer.map_err(|error| Error::Io { what: error.to_string() })?;
        Ok(SqliteFile {
            opening: Arc::new(opening),
            jobs: Some(jobs),
            writer: Some(writer),
            idle: Arc::default(),
            readers: Arc::new(Semaphore::new(READERS)),
        })
    }

    /// Runs work on a reading connection.
    pub(super) async fn reading<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Connection) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        let permit = Arc::clone(&self.readers).acquire_owned().await.map_err(Error::broken)?;
        let (opening, idle) = (Arc::clone(&self.opening), Arc::clone(&self.idle));
        let done = tokio::task::spawn_blocking(move || {
            let lent = idle.lock().unwrap_or_else(PoisonError::into_inner).pop();
            let connection = lent.map_or_else(|| opening.reader(), Ok)?;
            let out = work(&connection);
            idle.lock().unwrap_or_else(PoisonError::into_inner).push(connection);
            drop(permit);
            out
        });
        done.await.map_err(Error::broken)?
    }
}

impl Drop for SqliteFile {
    /// What was handed to the writer is written before the file closes.
    fn drop(&mut self) {
        drop(self.jobs.take());
        if let Some(writer) = self.writer.take()
            && writer.join().is_err()
        {
            tracing::error!("the thread that writes the hub's file had broken off");
        }
    }
}

impl Backend for SqliteFile {
    async fn read<T: Send + 'static>(&self, work: Work<T>) -> Result<T, Error> {
        self.reading(move |connection| {
            connection.execute_batch("BEGIN")?;
            let out = work(&mut Statements(connection));
            connection.execute_batch("ROLLBACK")?;
            out
        })
        .await
    }

    async fn write<T: Send + 'static>(&self, work: Work<T>) -> Result<T, Error> {
        let (answer, answered) = oneshot::channel();
        let job: Job = Box::new(move |sql| {
            let out = sql.and_then(work);
            let failed = out.as_ref().err().cloned();
            let answer = move |commit: Option<Error>| {
                // Whoever waited may be gone; the work is done all the same.
                let _ = answer.send(out.and_then(|out| commit.map_or(Ok(out), Err)));
            };
            Ran { failed, answer: Box::new(answer) }
        });
        let gone = || Error::broken("the thread that writes has broken off; start the hub again");
        self.jobs.as_ref().ok_or_else(gone)?.send(job).await.map_err(|_| gone())?;
        answered.await.map_err(|_| gone())?
    }
}
