//! Photos that come or go in pieces.

use bodies::PhotoHash;

use super::row::{self, Known, PhotoState};
use super::{keep, shelf};
use crate::{Error, Store};

/// The length of a piece; only the last one is shorter.
pub const CHUNK: usize = 256 * 1024;

/// What became of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece {
    /// It is kept; the next one begins here.
    Next(u64),
    /// It was the last, and the photo is here.
    Whole,
}

impl Store {
    /// Keeps the next piece of a photo that is awaited. Once this returns `Ok` the piece survives a power cut.
    ///
    /// # Errors
    ///
    /// [`Error::NoPhoto`] for one that is not awaited; [`Error::PieceOutOfPlace`], which says where to go on;
    /// [`Error::WrongPhoto`] when all of it came and is another photo: it then begins anew; what storage gives.
    pub fn keep_piece(&self, hash: PhotoHash, at: u64, bytes: &[u8]) -> Result<Piece, Error> {
        let shelf = self.shelf()?;
        let came = self.write(|transaction| {
            let known = row::row(transaction, hash)?.ok_or(Error::NoPhoto)?;
            match known.state {
                PhotoState::Here => return Ok(Came::Whole),
                PhotoState::Freed => return Err(Error::NoPhoto),
                PhotoState::Awaited => {}
            }
            let got = at.saturating_add(bytes.len() as u64);
            let fits = bytes.len() == CHUNK || (got == known.length && bytes.len() < CHUNK);
            if at != known.got || !fits || got > known.length {
                return Err(Error::PieceOutOfPlace { expected: known.got });
            }
            let part = shelf::part(&hash);
            shelf.write(&part, at, bytes)?;
            shelf.sync(&part)?;
            if got < known.length {
                row::put(transaction, &Known { got, ..known })?;
                return Ok(Came::Next(got));
            }
            if !keep::is_whole(&*shelf, &part, hash)? {
                row::put(transaction, &Known { got: 0, ..known })?;
                return Ok(Came::Wrong);
            }
            shelf.rename(&part, &shelf::whole(&hash))?;
            row::put(transaction, &Known { got, state: PhotoState::Here, ..known })?;
            Ok(Came::Whole)
        })?;
        match came {
            Came::Next(got) => Ok(Piece::Next(got)),
            Came::Whole => Ok(Piece::Whole),
            Came::Wrong => {
                shelf.remove(&shelf::part(&hash))?;
                Err(Error::WrongPhoto)
            }
        }
    }

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

enum Came {
    Next(u64),
    Whole,
    Wrong,
}
