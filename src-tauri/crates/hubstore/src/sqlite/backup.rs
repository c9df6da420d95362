//! A copy of the file as it stands, made while the hub goes on.

use std::path::{Path, PathBuf};

use rusqlite::Connection;
use rusqlite::backup::{Backup, StepResult};

use super::Sqlite;
use crate::Error;

impl Sqlite {
    /// Copies the file to a path, beside it first and then in place: at `to` stands the whole copy or none. The hub goes
    /// on meanwhile. What was sealed for a session stands in the copy too; a hub that starts from it begins a new epoch,
    /// which ends them.
    ///
    /// # Errors
    ///
    /// What storage gives; [`Error::NotEmpty`] when something stands at `to`.
    pub async fn backup(&self, to: &Path) -> Result<(), Error> {
        if to.exists() {
            return Err(Error::NotEmpty);
        }
        let (to, beside) = (to.to_owned(), beside(to));
        self.backend.reading(move |connection| copy(connection, &beside, &to)).await
    }

    /// Goes through every page of the file, and every index against its table.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] with the first thing that is wrong.
    pub async fn check(&self) -> Result<(), Error> {
        let check = |connection: &Connection| {
            let answer: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
            if answer == "ok" { Ok(()) } else { Err(Error::unreadable(answer)) }
        };
        self.backend.reading(check).await
    }
}

fn beside(to: &Path) -> PathBuf {
    let mut name = to.file_name().unwrap_or_default().to_owned();
    name.push(".partial");
    to.with_file_name(name)
}

fn copy(from: &Connection, beside: &Path, to: &Path) -> Result<(), Error> {
    if beside.exists() {
        std::fs::remove_file(beside)?;
    }
    let mut copy = Connection::open(beside)?;
    {
        // All at once: in pieces, each change meanwhile would begin it anew, for ever on a busy hub.
        let backup = Backup::new(from, &mut copy)?;
        match backup.step(-1)? {
            StepResult::Done => {}
            _ => return Err(Error::Busy),
        }
    }
    // The copy is marked as having a write-ahead log; a file to be carried about is better without.
    copy.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))?;
    copy.close().map_err(|(_, error)| error)?;
    std::fs::File::open(beside)?.sync_all()?;
    std::fs::rename(beside, to)?;
    sync_folder(to)
}

fn sync_folder(of: &Path) -> Result<(), Error> {
    let folder = of.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if cfg!(unix) {
        std::fs::File::open(folder)?.sync_all()?;
    }
    Ok(())
}
