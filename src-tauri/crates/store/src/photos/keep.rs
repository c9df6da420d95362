//! Keeping a photo that is here as a whole, and reading it.

use bodies::PhotoHash;

use super::pieces::CHUNK;
use super::row::{self, Known, PhotoState};
use super::shelf;
use crate::{Error, Store};

/// Returns the name of a photo: the BLAKE3 hash of its bytes.
#[must_use]
pub fn photo_hash(bytes: &[u8]) -> PhotoHash {
    PhotoHash(blake3::hash(bytes).into())
}

impl Store {
    /// Keeps a photo and returns its hash. Once this returns `Ok` it survives a power cut. The same photo again is there
    /// already.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives; nothing is then kept.
    pub fn keep_photo(&self, bytes: &[u8], media: &str) -> Result<PhotoHash, Error> {
        let hash = photo_hash(bytes);
        let length = bytes.len() as u64;
        let shelf = self.shelf()?;
        self.write(|transaction| {
            let before = row::row(transaction, hash)?;
            if before.as_ref().is_some_and(|known| known.state == PhotoState::Here)
                && shelf.length(&shelf::whole(&hash))? == Some(length)
            {
                return Ok(());
            }
            let part = shelf::part(&hash);
            shelf.write(&part, 0, bytes)?;
            shelf.sync(&part)?;
            shelf.rename(&part, &shelf::whole(&hash))?;
            let media = before.map_or_else(|| media.to_owned(), |known| known.media);
            row::put(transaction, &Known { hash, length, media, state: PhotoState::Here, got: length })
        })?;
        Ok(hash)
    }

    /// Returns a photo that is here, compared with its hash.
    ///
    /// # Errors
    ///
    /// [`Error::NoPhoto`] when it is not here, [`Error::Unreadable`] when its bytes are not as they were kept, and what
    /// storage gives.
    pub fn photo(&self, hash: PhotoHash) -> Result<Vec<u8>, Error> {
        let shelf = self.shelf()?;
        let known = self.read(|connection| row::row(connection, hash))?;
        let known = known.filter(|known| known.state == PhotoState::Here).ok_or(Error::NoPhoto)?;
        let most = usize::try_from(known.length).map_err(|_| Error::NoPhoto)?;
        let bytes = shelf.read(&shelf::whole(&hash), 0, most)?;
        if photo_hash(&bytes) != hash {
            return Err(Error::Unreadable { what: "a photo is not as it was kept".to_owned() });
        }
        Ok(bytes)
    }
}

/// Returns whether a file holds the photo of this hash, whole. It is read piece by piece: photos are large.
pub(crate) fn is_whole(shelf: &dyn super::Shelf, name: &str, hash: PhotoHash) -> Result<bool, Error> {
    let mut hasher = blake3::Hasher::new();
    let mut at = 0;
    loop {
        let piece = shelf.read(name, at, CHUNK)?;
        hasher.update(&piece);
        at += piece.len() as u64;
        if piece.len() < CHUNK {
            return Ok(PhotoHash(hasher.finalize().into()) == hash);
        }
    }
}
