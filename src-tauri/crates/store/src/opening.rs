//! Opening the file: settings, checks, upgrades, in this order.
//!
//! 1. The lock: `locking_mode=EXCLUSIVE`, set before anything is read. Two processes never write at once,
//!    and SQLite then keeps the index of the write-ahead log in its own memory and needs no shared memory file.
//! 2. What the file says of itself. A newer format is refused before anything is written.
//! 3. `journal_mode=WAL`, `synchronous=FULL`.
//! 4. `integrity_check` over the whole file, and a look into every tree, at the first opening in a process; not when a
//!    command reopens the file after a suspend, which must be quick.
//! 5. The upgrade, in one transaction.
//!
//! A file that fails as damaged is put aside ([`crate::Error::Damaged`] names where); the next opening
//! begins a new one. That it happened is the caller's to show, and is never passed over in silence.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use crate::schema::{self, Format};
use crate::sound::sound;
use crate::{Disk, Error, Shelf, Store, aside};

/// When writes are pushed to the storage itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Flush {
    /// At every commit. What was said to be saved survives a power cut.
    #[default]
    AtCommit,
    /// Never. Here only so that a test can show that it would notice.
    Never,
}

/// How to open a store.
#[derive(Debug, Clone)]
pub struct Opening {
    path: PathBuf,
    vfs: Option<String>,
    flush: Flush,
    most_pages: Option<u32>,
    shelf: Option<Arc<dyn Shelf>>,
}

/// How much of the file is looked at.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Check {
    /// All of it.
    Whole,
    /// What is read.
    Nothing,
}

impl Opening {
    /// Begins to open the file at this path, which is made when it is not there. Its folder must exist.
    #[must_use]
    pub fn at(path: impl AsRef<Path>) -> Opening {
        let path = path.as_ref().to_owned();
        Opening { path, vfs: None, flush: Flush::default(), most_pages: None, shelf: None }
    }

    /// Keeps photos on this shelf; else they lie in the folder `photos` beside the file.
    #[must_use]
    pub fn photos_on(mut self, shelf: Arc<dyn Shelf>) -> Opening {
        self.shelf = Some(shelf);
        self
    }

    /// Returns where photos lie; none for a file that is no file of the system, unless it was given a shelf.
    pub(crate) fn shelf(&self) -> Option<Arc<dyn Shelf>> {
        if self.shelf.is_some() || self.vfs.is_some() {
            return self.shelf.clone();
        }
        Some(Arc::new(Disk::at(self.path.with_file_name("photos"))))
    }

    /// Returns the file's path.
    pub(crate) fn path(&self) -> &Path {
        &self.path
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

    /// Opens the store, checking the whole file.
    ///
    /// # Errors
    ///
    /// [`Error::Newer`], [`Error::Damaged`], [`Error::Busy`], [`Error::Full`], [`Error::Io`].
    pub fn open(self) -> Result<Store, Error> {
        if self.vfs.is_none()
            && let Some(kept_at) = aside::finish(&self.path)?
        {
            return Err(Error::Damaged { kept_at, what: "found damaged earlier".to_owned() });
        }
        match self.connect(Check::Whole) {
            Ok(connection) => Ok(Store::over(self, connection)),
            Err(Error::Unreadable { what }) if self.vfs.is_none() => {
                Err(Error::Damaged { kept_at: aside::keep(&self.path)?, what })
            }
            Err(other) => Err(other),
        }
    }

    /// Opens a connection with every setting made. Damage comes back as [`Error::Unreadable`].
    pub(crate) fn connect(&self, check: Check) -> Result<Connection, Error> {
        let mut connection = self.bare()?;
        lock(&connection)?;
        match schema::format(&connection)? {
            Format::Ours(found) if found > schema::newest() => {
                return Err(Error::Newer { found, known: schema::newest() });
            }
            Format::Foreign => {
                return Err(Error::Unreadable { what: "it is no data file of ours".to_owned() });
            }
            Format::Ours(_) | Format::Empty => {}
        }
        settle(&connection)?;
        self.make_durable(&connection)?;
        if check == Check::Whole {
            sound(&connection)?;
        }
        schema::upgrade(&mut connection)?;
        connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false)?;
        if self.vfs.is_none() {
            aside::sync_folder(&self.path)?;
        }
        Ok(connection)
    }

    fn bare(&self) -> Result<Connection, Error> {
        // No mutex inside SQLite: the store's own stands before every call.
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_CREATE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        Ok(match &self.vfs {
            Some(vfs) => Connection::open_with_flags_and_vfs(&self.path, flags, vfs.as_str())?,
            None => Connection::open_with_flags(&self.path, flags)?,
        })
    }

    fn make_durable(&self, connection: &Connection) -> Result<(), Error> {
        // Asked to its end: the answer comes before the commit that makes it true, and a commit that fails
        // after it would go unseen.
        let mut statement = connection.prepare("PRAGMA journal_mode = WAL")?;
        let modes = statement.query_map([], |row| row.get(0))?.collect::<Result<Vec<String>, _>>()?;
        if modes != ["wal"] {
            return Err(Error::Io { what: format!("no write-ahead log here, only {modes:?}") });
        }
        let synchronous = match self.flush {
            Flush::AtCommit => "FULL",
            Flush::Never => "OFF",
        };
        connection.pragma_update(None, "synchronous", synchronous)?;
        // A register load can make the log long; it is cut back once its content is in the file.
        connection.pragma_update_and_check(None, "journal_size_limit", 4 << 20, |_| Ok(()))?;
        if let Some(pages) = self.most_pages {
            connection.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))?;
        }
        Ok(())
    }
}

/// Makes the settings that come before the first read. None of them reads the tables' descriptions, which a
/// damaged or newer file may not give.
fn lock(connection: &Connection) -> Result<(), Error> {
    connection.busy_timeout(Duration::from_secs(2))?;
    // A file that is refused is left exactly as it is: closing it must not write the log into it.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.pragma_update_and_check(None, "locking_mode", "EXCLUSIVE", |_| Ok(()))?;
    Ok(())
}

/// Makes the settings that hold for all work on the file.
fn settle(connection: &Connection) -> Result<(), Error> {
    // A phone has no folder for temporary files that we may count on.
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    // Without it INSERT OR REPLACE removes a row past the trigger that forbids it.
    connection.pragma_update(None, "recursive_triggers", true)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    // In KiB when negative: the code index of 100,000 instruments fits, so that a lookup reads no file.
    connection.pragma_update(None, "cache_size", -16 * 1024)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Returns how transactions begin: with the write lock, so that none fails half way for want of it.
pub(crate) const WRITING: TransactionBehavior = TransactionBehavior::Immediate;
