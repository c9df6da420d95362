//! A phone: a folder for its data and one for what it hands out.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

/// A phone whose folders go away with it, unless it was given a place of its own.
#[derive(Debug)]
pub struct Phone {
    place: Place,
    most_pages: Option<u32>,
    frames: Option<OsString>,
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
        Phone { place: Place::Temporary(tempfile::tempdir()?), most_pages: None, frames: None }.with_folders()
    }

    /// The phone that is kept in a folder: a new one, or the one that was there before.
    ///
    /// # Errors
    ///
    /// When its folders cannot be made.
    pub fn at(folder: &Path) -> io::Result<Phone> {
        Phone { place: Place::Kept(folder.to_owned()), most_pages: None, frames: None }.with_folders()
    }

    /// Lets the data file grow no more.
    ///
    /// # Errors
    ///
    /// When there is no data file yet.
    pub(crate) fn grow_no_more(&mut self) -> io::Result<()> {
        let pages = std::fs::metadata(self.data().join("headmark.db"))?.len() / 4096;
        self.most_pages = Some(u32::try_from(pages).map_err(io::Error::other)?);
        Ok(())
    }

    /// Returns the most pages of 4 KiB that the data file may have.
    pub(crate) fn most_pages(&self) -> Option<u32> {
        self.most_pages
    }

    pub(crate) fn forget_limit(&mut self) {
        self.most_pages = None;
    }

    /// Lets the app's camera see the pictures of a folder, one after the other.
    pub fn sees(&mut self, frames: &Path) {
        self.frames = Some(frames.into());
    }

    /// Refuses the app the use of the camera.
    pub fn refuses_camera(&mut self) {
        self.frames = Some("refused".into());
    }

    /// Returns the variables that give the app this phone.
    #[must_use]
    pub fn variables(&self) -> Vec<(&'static str, OsString)> {
        let mut variables = vec![
            ("HEADMARK_DATA", self.data().into_os_string()),
            ("HEADMARK_EXPORTS", self.exports().into_os_string()),
        ];
        variables.extend(self.frames.clone().map(|frames| ("HEADMARK_FRAMES", frames)));
        variables.extend(self.most_pages.map(|pages| ("HEADMARK_MOST_PAGES", pages.to_string().into())));
        variables
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
