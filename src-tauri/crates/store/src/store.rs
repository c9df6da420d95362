//! The store itself: one connection behind one lock, closed on suspend, opened again by the next call.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rusqlite::{Connection, Transaction};

use crate::opening::{Check, WRITING};
use crate::{Error, Opening, Shelf};

/// The phone's data. Shared between threads by reference; calls go one after the other.
pub struct Store {
    opening: Opening,
    connection: Mutex<Option<Connection>>,
}

impl Store {
    pub(crate) fn over(opening: Opening, connection: Connection) -> Store {
        Store { opening, connection: Mutex::new(Some(connection)) }
    }

    /// Moves the write-ahead log into the file and empties it. The store stays open.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] or [`Error::Io`]; what was saved is then still safe in the log.
    pub fn checkpoint(&self) -> Result<(), Error> {
        self.read(empty_log)
    }

    /// Closes the file for a suspend. The next call of any kind opens it again by itself.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] or [`Error::Io`] when the log could not be emptied first. The file is closed all the
    /// same and nothing is lost.
    pub fn suspend(&self) -> Result<(), Error> {
        let Some(connection) = self.lock().take() else {
            return Ok(());
        };
        let emptied = empty_log(&connection);
        connection.close().map_err(|(_, error)| error)?;
        emptied
    }

    /// Returns where photos lie.
    pub(crate) fn shelf(&self) -> Result<Arc<dyn Shelf>, Error> {
        self.opening.shelf().ok_or(Error::NoShelf)
    }

    /// Returns how it was opened.
    pub(crate) fn opening(&self) -> &Opening {
        &self.opening
    }

    /// Runs a piece of work that only reads.
    pub(crate) fn read<T>(&self, work: impl FnOnce(&Connection) -> Result<T, Error>) -> Result<T, Error> {
        let mut held = self.lock();
        work(self.awake(&mut held)?)
    }

    /// Runs a piece of work in a transaction and returns once that is committed and synced.
    pub(crate) fn write<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let mut held = self.lock();
        let transaction = self.awake(&mut held)?.transaction_with_behavior(WRITING)?;
        let value = work(&transaction)?;
        transaction.commit()?;
        Ok(value)
    }

    /// Returns the connection, opened again if a suspend closed it.
    fn awake<'a>(&self, held: &'a mut Option<Connection>) -> Result<&'a mut Connection, Error> {
        match held {
            Some(connection) => Ok(connection),
            None => Ok(held.insert(self.opening.connect(Check::Nothing)?)),
        }
    }

    /// Takes the lock. A thread that panicked under it left at most a transaction, which its drop undid.
    fn lock(&self) -> MutexGuard<'_, Option<Connection>> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn empty_log(connection: &Connection) -> Result<(), Error> {
    connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
    Ok(())
}
