//! Files on the same storage that are not SQLite's: written, synced and renamed by a program itself.

use std::io::{Error, ErrorKind, Result};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::disk::{Disk, Refused};

/// The storage, as a program reaches it for files of its own.
#[derive(Debug, Clone)]
pub struct Plain(pub(crate) Arc<Mutex<Disk>>);

impl Plain {
    /// Returns the length of a file, if it is there.
    #[must_use]
    pub fn length(&self, file: &str) -> Option<u64> {
        let disk = self.disk();
        disk.has(file).then(|| disk.length(file) as u64)
    }

    /// Reads up to `most` bytes from a place on.
    ///
    /// # Errors
    ///
    /// When there is no such file.
    pub fn read(&self, file: &str, at: usize, most: usize) -> Result<Vec<u8>> {
        let disk = self.disk();
        if !disk.has(file) {
            return Err(ErrorKind::NotFound.into());
        }
        let mut bytes = vec![0; most];
        let count = disk.read(file, at, &mut bytes);
        bytes.truncate(count);
        Ok(bytes)
    }

    /// Cuts a file at a place and writes there; makes it where it is not.
    ///
    /// # Errors
    ///
    /// When the storage is full, or its power off.
    pub fn write(&self, file: &str, at: usize, bytes: &[u8]) -> Result<()> {
        let mut disk = self.disk();
        disk.create(file);
        if disk.length(file) != at {
            disk.truncate(file, at).map_err(error)?;
        }
        disk.write(file, at, bytes).map_err(error)
    }

    /// Pushes a file's content to the storage.
    ///
    /// # Errors
    ///
    /// When the sync fails, or the power is off.
    pub fn sync(&self, file: &str) -> Result<()> {
        self.disk().sync(file).map_err(error)
    }

    /// Gives a file another name, for good: its folders are synced with it. Its content is not.
    ///
    /// # Errors
    ///
    /// When there is no such file, or the power is off.
    pub fn rename(&self, from: &str, to: &str) -> Result<()> {
        if self.disk().rename(from, to).map_err(error)? { Ok(()) } else { Err(ErrorKind::NotFound.into()) }
    }

    /// Removes a file, if it is there. Its folder is not synced.
    ///
    /// # Errors
    ///
    /// When the power is off.
    pub fn remove(&self, file: &str) -> Result<()> {
        self.disk().remove(file, false).map(drop).map_err(error)
    }

    /// Returns the files whose names begin so, with their lengths.
    #[must_use]
    pub fn names(&self, begin: &str) -> Vec<(String, u64)> {
        let disk = self.disk();
        let files = disk.files().iter().filter(|(file, _)| file.starts_with(begin));
        files.map(|(file, content)| (file.clone(), content.len() as u64)).collect()
    }

    fn disk(&self) -> MutexGuard<'_, Disk> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn error(refused: Refused) -> Error {
    match refused {
        Refused::Full => ErrorKind::StorageFull.into(),
        Refused::Sync => Error::other("the sync failed"),
        Refused::Off => Error::other("the power is off"),
    }
}
