//! Putting a file aside under another name, whole.
//!
//! The database and its write-ahead log belong together: without the log, the database lacks what was saved
//! last. Two renames are two steps, and the power may go between them. The database moves first. What is then
//! left is a log without a database, which SQLite never leaves by itself; [`finish`] sees it before SQLite does
//! (who would delete it) and moves it after its database. The other order would leave a database without its
//! log, which looks like any database that was closed well.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use crate::Error;

/// Moves the file and its write-ahead log to the first free name beside it, and returns that name.
pub(crate) fn keep(path: &Path) -> Result<PathBuf, Error> {
    let aside = names(path).find(|aside| !aside.exists() && !log_of(aside).exists()).ok_or_else(full_up)?;
    std::fs::rename(path, &aside)?;
    let log = log_of(path);
    if log.exists() {
        std::fs::rename(log, log_of(&aside))?;
    }
    sync_folder(path)?;
    Ok(aside)
}

/// Completes a move that a power cut broke in two, and returns the name if there was one.
pub(crate) fn finish(path: &Path) -> Result<Option<PathBuf>, Error> {
    let log = log_of(path);
    if path.exists() || !log.exists() {
        return Ok(None);
    }
    // The database went to the last name that is taken; with none, somebody else took it away.
    let last = names(path).take_while(|aside| aside.exists()).last();
    let aside = last.filter(|aside| !log_of(aside).exists());
    let Some(aside) = aside.or_else(|| names(path).find(|aside| !aside.exists() && !log_of(aside).exists()))
    else {
        return Err(full_up());
    };
    std::fs::rename(log, log_of(&aside))?;
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

/// Returns the files that were put aside, oldest first.
pub(crate) fn kept(path: &Path) -> Vec<PathBuf> {
    names(path).take_while(|aside| aside.exists() || log_of(aside).exists()).collect()
}

/// The names to try.
fn names(path: &Path) -> impl Iterator<Item = PathBuf> {
    (1..=999u32).map(move |number| with_end(path, &format!(".damaged-{number}")))
}

/// The write-ahead log that belongs to a database of this name.
pub(crate) fn log_of(path: &Path) -> PathBuf {
    with_end(path, "-wal")
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
        let aside = folder.path().join("a.db.damaged-1");
        std::fs::write(&aside, "file").unwrap();
        std::fs::write(log_of(&path), "log").unwrap();
        assert_eq!(finish(&path).unwrap().as_ref(), Some(&aside));
        assert_eq!(std::fs::read_to_string(log_of(&aside)).unwrap(), "log");
        assert_eq!(finish(&path).unwrap(), None);
    }

    #[test]
    fn a_file_with_its_log_is_no_broken_move() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.db");
        std::fs::write(folder.path().join("a.db.damaged-1"), "old").unwrap();
        std::fs::write(&path, "file").unwrap();
        std::fs::write(log_of(&path), "log").unwrap();
        assert_eq!(finish(&path).unwrap(), None);
        assert!(log_of(&path).exists());
    }

    #[test]
    fn a_log_whose_file_somebody_took_is_kept_too() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.db");
        std::fs::write(log_of(&path), "log").unwrap();
        let aside = finish(&path).unwrap().unwrap();
        assert_eq!(std::fs::read_to_string(log_of(&aside)).unwrap(), "log");
    }
}
