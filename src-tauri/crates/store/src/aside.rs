//! Putting a file aside under another name, whole.
//!
//! The database and its write-ahead log belong together: without the log, the database lacks what was saved
//! last. The log moves first. A cut between the two moves then leaves a log under the new name and the
//! database under the old one, and [`finish`] completes it at the next opening. In the other order SQLite
//! would find a log with no database and delete it.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use crate::Error;

/// Moves the file and its write-ahead log to the first free name beside it, and returns that name.
pub(crate) fn keep(path: &Path) -> Result<PathBuf, Error> {
    let (aside, _) = names(path).find(|(aside, wal)| !aside.exists() && !wal.exists()).ok_or_else(full_up)?;
    let wal = with_end(path, "-wal");
    if wal.exists() {
        std::fs::rename(&wal, with_end(&aside, "-wal"))?;
    }
    std::fs::rename(path, &aside)?;
    sync_folder(path)?;
    Ok(aside)
}

/// Completes a move that a power cut broke in two, and returns the name if there was one.
pub(crate) fn finish(path: &Path) -> Result<Option<PathBuf>, Error> {
    let broken = names(path)
        .take_while(|(aside, wal)| aside.exists() || wal.exists())
        .find(|(aside, _)| !aside.exists());
    let Some((aside, _)) = broken.filter(|_| path.exists()) else {
        return Ok(None);
    };
    std::fs::rename(path, &aside)?;
    sync_folder(path)?;
    Ok(Some(aside))
}

/// Makes the names in the file's folder durable, where the system has a call for it.
pub(crate) fn sync_folder(path: &Path) -> Result<(), Error> {
    if cfg!(unix)
        && let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty())
    {
        std::fs::File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// The names to try, each with that of its write-ahead log.
fn names(path: &Path) -> impl Iterator<Item = (PathBuf, PathBuf)> {
    (1..=999u32).map(move |number| {
        let aside = with_end(path, &format!(".damaged-{number}"));
        let wal = with_end(&aside, "-wal");
        (aside, wal)
    })
}

fn with_end(path: &Path, end: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}

fn full_up() -> Error {
    Error::Io { what: "too many damaged files are kept already".to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_and_its_log_move_together_to_a_free_name() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.db");
        for round in 1..=2 {
            std::fs::write(&path, format!("file {round}")).unwrap();
            std::fs::write(with_end(&path, "-wal"), format!("log {round}")).unwrap();
            let aside = keep(&path).unwrap();
            assert_eq!(aside, folder.path().join(format!("a.db.damaged-{round}")));
            assert_eq!(std::fs::read_to_string(&aside).unwrap(), format!("file {round}"));
            assert_eq!(std::fs::read_to_string(with_end(&aside, "-wal")).unwrap(), format!("log {round}"));
            assert!(!path.exists());
        }
    }

    #[test]
    fn a_move_cut_in_two_is_completed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.db");
        std::fs::write(&path, "file").unwrap();
        std::fs::write(folder.path().join("a.db.damaged-1-wal"), "log").unwrap();
        assert_eq!(finish(&path).unwrap(), Some(folder.path().join("a.db.damaged-1")));
        assert_eq!(finish(&path).unwrap(), None);
        std::fs::write(&path, "a new file").unwrap();
        assert_eq!(finish(&path).unwrap(), None, "a complete pair is no broken move");
    }
}
