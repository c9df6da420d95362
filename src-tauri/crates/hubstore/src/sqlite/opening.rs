//! Opening the file: what it is, settings, upgrades, in this order.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use super::{SqliteFile, schema};
use crate::Error;
use crate::sql::Database;

/// A hub's storage in a SQLite file.
pub type Sqlite = Database<SqliteFile>;

/// How long a connection waits for another process.
const PATIENCE: Duration = Duration::from_secs(10);

/// When writes are pushed to the storage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Flush {
    /// At every commit. What was said to be saved survives a power cut.
    #[default]
    AtCommit,
    /// Never. Here only so that a test can show that it would notice.
    Never,
}

/// How to open a file.
#[derive(Debug, Clone)]
pub struct Opening {
    path: PathBuf,
    vfs: Option<String>,
    flush: Flush,
    most_pages: Option<u32>,
}

impl Opening {
    /// Begins to open the file at this path, which is made when it is not there. Its folder must exist.
    #[must_use]
    pub fn at(path: impl AsRef<Path>) -> Opening {
        let path = path.as_ref().to_owned();
        Opening { path, vfs: None, flush: Flush::default(), most_pages: None }
    }

    /// Reads and writes through the SQLite file system registered under this name.
    #[must_use]
    pub fn through(mut self, vfs: &str) -> Opening {
        self.vfs = Some(vfs.to_owned());
        self
    }

    /// Chooses when writes are pushed to the storage.
    #[must_use]
    pub fn flush(mut self, flush: Flush) -> Opening {
        self.flush = flush;
        self
    }

    /// Limits the file to this many pages of 4 KiB; beyond them the storage counts as full.
    #[must_use]
    pub fn most_pages(mut self, pages: u32) -> Opening {
        self.most_pages = Some(pages);
        self
    }

    /// Opens the store. It asks for a tokio runtime: what reads is done on its blocking threads.
    ///
    /// # Errors
    ///
    /// [`Error::Newer`] and [`Error::Foreign`], in which case nothing is touched; what storage gives.
    pub fn open(self) -> Result<Sqlite, Error> {
        let writer = self.writer()?;
        Ok(Database { backend: SqliteFile::over(self, writer)? })
    }

    fn writer(&self) -> Result<Connection, Error> {
        let mut connection = self.bare(OpenFlags::SQLITE_OPEN_CREATE)?;
        schema::check(&connection)?;
        let mode: String = connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
        if mode != "wal" {
            return Err(Error::Io { what: format!("no write-ahead log here, only {mode}") });
        }
        self.settle(&connection)?;
        if let Some(pages) = self.most_pages {
            connection.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))?;
        }
        schema::upgrade(&mut connection)?;
        Ok(connection)
    }

    /// Opens another connection, which only reads.
    pub(super) fn reader(&self) -> Result<Connection, Error> {
        let connection = self.bare(OpenFlags::empty())?;
        self.settle(&connection)?;
        connection.pragma_update(None, "query_only", true)?;
        Ok(connection)
    }

    fn bare(&self, flags: OpenFlags) -> Result<Connection, Error> {
        let flags = flags | OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = match &self.vfs {
            Some(vfs) => Connection::open_with_flags_and_vfs(&self.path, flags, vfs.as_str())?,
            None => Connection::open_with_flags(&self.path, flags)?,
        };
        connection.busy_timeout(PATIENCE)?;
        Ok(connection)
    }

    fn settle(&self, connection: &Connection) -> Result<(), Error> {
        // The readers' too: the last one to close moves the log into the file, whichever it is.
        let synchronous = match self.flush {
            Flush::AtCommit => "FULL",
            Flush::Never => "OFF",
        };
        connection.pragma_update(None, "synchronous", synchronous)?;
        connection.pragma_update(None, "temp_store", "MEMORY")?;
        // Without it INSERT OR REPLACE removes a row past the trigger that forbids it.
        connection.pragma_update(None, "recursive_triggers", true)?;
        connection.pragma_update(None, "trusted_schema", false)?;
        // In KiB when negative.
        connection.pragma_update(None, "cache_size", -8 * 1024)?;
        connection.pragma_update_and_check(None, "journal_size_limit", 64 << 20, |_| Ok(()))?;
        connection.set_prepared_statement_cache_capacity(128);
        Ok(())
    }
}
