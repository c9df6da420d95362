//! Photos that go in pieces.

use bodies::PhotoHash;

use super::row::{self, PhotoState};
use super::shelf;
use crate::{Error, Store};

/// The length of a piece; only the last one is shorter.
pub const CHUNK: usize = 256 * 1024;

impl Store {
    /// Returns a piece of a photo that is here, from a place on.
    ///
    /// # Errors
    ///
    /// [`Error::NoPhoto`] when it is not here, and what storage gives.
    pub fn photo_piece(&self, hash: PhotoHash, at: u64) -> Result<Vec<u8>, Error> {
        let shelf = self.shelf()?;
        let known = self.read(|connection| row::row(connection, hash))?;
        known.filter(|known| known.state == PhotoState::Here).ok_or(Error::NoPhoto)?;
        Ok(shelf.read(&shelf::whole(&hash), at, CHUNK)?)
    }
}
