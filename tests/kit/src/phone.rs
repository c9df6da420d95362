//! A phone: a folder for its data and one for what it hands out.

use std::io;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

/// A phone whose folders go away with it, unless it was given a place of its own.
#[derive(Debug)]
pub struct Phone {
    place: Place,
}

#[derive(Debug)]
enum Place {
    Temporary(TempDir),
    Kept(PathBuf),
}

impl Phone {
    /// A phone fresh from the shop.
    ///
    /// # Errors
    ///
    /// When no folder can be made.
    pub fn new() -> io::Result<Phone> {
        Phone { place: Place::Temporary(tempfile::tempdir()?) }.with_folders()
    }

    /// The phone that is kept in a folder: a new one, or the one that was there before.
    ///
    /// # Errors
    ///
    /// When its folders cannot be made.
    pub fn at(folder: &Path) -> io::Result<Phone> {
        Phone { place: Place::Kept(folder.to_owned()) }.with_folders()
    }

    fn with_folders(self) -> io::Result<Phone> {
        std::fs::create_dir_all(self.data())?;
        std::fs::create_dir_all(self.exports())?;
        Ok(self)
    }

    fn folder(&self) -> &Path {
        match &self.place {
            Place::Temporary(folder) => folder.path(),
            Place::Kept(folder) => folder,
        }
    }

    /// Where the app keeps its data.
    #[must_use]
    pub fn data(&self) -> PathBuf {
        self.folder().join("data")
    }

    /// Where exported records go.
    #[must_use]
    pub fn exports(&self) -> PathBuf {
        self.folder().join("exports")
    }
}
