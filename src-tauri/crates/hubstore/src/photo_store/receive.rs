//! A photo that arrives.

use std::collections::BTreeMap;
use std::path::PathBuf;

use bodies::{PHOTO_BYTES, PhotoHash};
use bytes::Bytes;
use futures_util::{StreamExt, TryStreamExt};
use object_store::path::Path;
use object_store::{ObjectStore, WriteMultipart};

use super::PhotoStore;
use super::failure::{failure, not_made};
use super::names::{PIECES, piece_count, piece_length, piece_place, place, placed};
use crate::{Cited, Error, PhotoRow, Photos};

/// S3 takes no smaller parts, but for the last.
const PART: usize = 5 << 20;

/// A piece, as whoever brings it says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// The photo.
    pub photo: PhotoHash,
    /// The length of all of the photo.
    pub of: u64,
    /// Which piece it is, from 0.
    pub number: u32,
}

/// What came of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Taken {
    /// It is here; these are not yet.
    Waiting(Vec<u32>),
    /// All of the photo is here, proved and synced.
    Whole,
}

impl PhotoStore {
    /// Takes a piece, and puts the photo together when it was the last. A piece may come twice.
    ///
    /// The photo may have any length that a record says of it. Pieces of one length are kept apart from those of another,
    /// and the hash decides in the end: whoever names a wrong length keeps nobody's photo from coming.
    ///
    /// # Errors
    ///
    /// [`Error::NotCited`], [`Error::PhotoTooLong`], [`Error::OtherLength`], [`Error::NotAPiece`];
    /// [`Error::WrongPhoto`] when the pieces do not come to the photo, which are dropped then; what storage gives.
    pub async fn take_piece(&self, known: &impl Photos, piece: Piece, bytes: Bytes) -> Result<Taken, Error> {
        let Piece { photo, of, number } = piece;
        // Whatever is made by the length below is bounded by this: a record may name any length.
        if of > PHOTO_BYTES {
            return Err(Error::PhotoTooLong { photo });
        }
        let row = known.photo(photo).await?.ok_or(Error::NotCited { photo })?;
        if row.whole {
            return Ok(Taken::Whole);
        }
        if row.cited.length != of && !says(known, photo, of).await? {
            return Err(Error::OtherLength { photo });
        }
        let wrong = |what| Error::NotAPiece { photo, what };
        let length = piece_length(of, number).ok_or(wrong("there is no such piece of it"))?;
        if bytes.len() as u64 != length {
            return Err(wrong("it has another length than the piece"));
        }
        let place = piece_place(photo, of, number);
        self.objects.put(&place, bytes.into()).await.map_err(|error| not_made(&error))?;
        known.piece_came(photo, of, number).await?;
        // Asked again: another piece may have come meanwhile, by another process.
        let row = known.photo_as(photo, of).await?.ok_or(Error::NotCited { photo })?;
        self.go_on(known, &row).await
    }

    async fn go_on(&self, known: &impl Photos, row: &PhotoRow) -> Result<Taken, Error> {
        if row.whole {
            return Ok(Taken::Whole);
        }
        let missing = missing_pieces(row);
        if !missing.is_empty() {
            return Ok(Taken::Waiting(missing));
        }
        let Cited { photo, length, .. } = row.cited;
        match self.assemble(&row.cited).await {
            Ok(()) => known.came_whole(photo, length).await?,
            Err(wrong @ Error::WrongPhoto { .. }) => {
                // The last piece may have come twice at once: then the other put the photo together and took the pieces.
                if known.photo(photo).await?.is_some_and(|row| row.whole) {
                    return Ok(Taken::Whole);
                }
                known.forget_pieces(photo, length).await?;
                self.drop_pieces(row).await;
                return Err(wrong);
            }
            Err(error) => return Err(error),
        }
        self.drop_pieces(row).await;
        Ok(Taken::Whole)
    }

    /// Drops the files of pieces that nobody knows of any more.
    async fn drop_pieces(&self, row: &PhotoRow) {
        let Cited { photo, length, .. } = row.cited;
        for piece in &row.pieces {
            match self.objects.delete(&piece_place(photo, length, *piece)).await {
                Ok(()) | Err(object_store::Error::NotFound { .. }) => {}
                // The photo is safe; a piece left lying costs space and nothing else.
                Err(error) => tracing::warn!(%photo, piece, %error, "a piece of a photo was left lying"),
            }
        }
    }

    /// Puts the pieces together beside the place, and moves them there when they are the photo.
    async fn assemble(&self, cited: &Cited) -> Result<(), Error> {
        let photo = cited.photo;
        let upload = self.objects.put_multipart(&place(photo)).await.map_err(|error| not_made(&error))?;
        let mut write = WriteMultipart::new_with_chunk_size(upload, PART);
        match self.copy_pieces(cited, &mut write).await {
            Ok(()) => {
                write.finish().await.map_err(|error| failure(&error))?;
                self.sync(photo).await
            }
            Err(error) => {
                if let Err(left) = write.abort().await {
                    tracing::warn!(%photo, error = %left, "what was begun of a photo was left lying");
                }
                Err(error)
            }
        }
    }

    async fn copy_pieces(&self, cited: &Cited, write: &mut WriteMultipart) -> Result<(), Error> {
        let photo = cited.photo;
        let wrong = |what| Error::WrongPhoto { photo, what };
        let mut hash = blake3::Hasher::new();
        for piece in 0..u32::try_from(piece_count(cited.length)).map_err(|_| wrong("it is too long"))? {
            let found = match self.objects.get(&piece_place(photo, cited.length, piece)).await {
                Ok(found) => found.bytes().await.map_err(|error| failure(&error))?,
                Err(object_store::Error::NotFound { .. }) => return Err(wrong("a piece of it is lost")),
                Err(error) => return Err(failure(&error)),
            };
            if Some(found.len() as u64) != piece_length(cited.length, piece) {
                return Err(wrong("a piece of it was cut short"));
            }
            hash.update(&found);
            write.wait_for_capacity(2).await.map_err(|error| failure(&error))?;
            write.put(found);
        }
        if hash.finalize() == blake3::Hash::from_bytes(photo.0) {
            Ok(())
        } else {
            Err(wrong("its hash is another"))
        }
    }

    /// Has a local file, and the folders that name it, written to the disk itself.
    async fn sync(&self, photo: PhotoHash) -> Result<(), Error> {
        let Some(folder) = self.folder.clone() else { return Ok(()) };
        let mut path: PathBuf = folder.clone();
        path.extend(place(photo).parts().map(|part| part.as_ref().to_owned()));
        let sync = move || {
            let mut of = Some(path.as_path());
            while let Some(path) = of.filter(|path| path.starts_with(&folder)) {
                // Only on unix can a folder be opened to be synced.
                if cfg!(unix) || path.is_file() {
                    std::fs::File::open(path)?.sync_all()?;
                }
                of = path.parent();
            }
            Ok(())
        };
        tokio::task::spawn_blocking(sync).await.map_err(Error::broken)?
    }

    /// Takes all of a photo from another store, as a backup or a restore does: proved on the way, moved into place when
    /// it is the photo.
    ///
    /// # Errors
    ///
    /// [`Error::WrongPhoto`] when the other's bytes are lost or spoilt; what storage gives.
    pub async fn copy_from(&self, other: &PhotoStore, photo: PhotoHash) -> Result<(), Error> {
        let found = match other.objects.get(&place(photo)).await {
            Ok(found) => found,
            Err(object_store::Error::NotFound { .. }) => {
                return Err(Error::WrongPhoto { photo, what: "there is none" });
            }
            Err(error) => return Err(failure(&error)),
        };
        let upload = self.objects.put_multipart(&place(photo)).await.map_err(|error| not_made(&error))?;
        let mut write = WriteMultipart::new_with_chunk_size(upload, PART);
        let mut hash = blake3::Hasher::new();
        let mut bytes = found.into_stream();
        while let Some(part) = bytes.next().await {
            let part = part.map_err(|error| failure(&error))?;
            hash.update(&part);
            write.wait_for_capacity(2).await.map_err(|error| failure(&error))?;
            write.put(part);
        }
        if hash.finalize() != blake3::Hash::from_bytes(photo.0) {
            write.abort().await.map_err(|error| failure(&error))?;
            return Err(Error::WrongPhoto { photo, what: "its hash is another" });
        }
        write.finish().await.map_err(|error| failure(&error))?;
        self.sync(photo).await
    }

    /// Drops pieces that lie about though their photo is whole, is cited no more, or is said by nobody to have that length.
    /// Returns how many.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub async fn clear_pieces(&self, known: &impl Photos) -> Result<u64, Error> {
        let mut all = self.objects.list(Some(&Path::from(PIECES)));
        let mut wanted = BTreeMap::new();
        let mut dropped = 0;
        while let Some(found) = all.try_next().await.map_err(|error| failure(&error))? {
            let keep = match placed(&found.location) {
                Some(of @ (photo, length)) => match wanted.get(&of) {
                    Some(wanted) => *wanted,
                    None => *wanted.entry(of).or_insert(is_wanted(known, photo, length).await?),
                },
                None => false,
            };
            if !keep {
                self.objects.delete(&found.location).await.map_err(|error| failure(&error))?;
                dropped += 1;
            }
        }
        Ok(dropped)
    }
}

/// Returns whether a record says that a photo has this length.
async fn says(known: &impl Photos, photo: PhotoHash, length: u64) -> Result<bool, Error> {
    Ok(known.citations(photo).await?.iter().any(|citation| citation.length == length))
}

/// Returns whether pieces of a photo of this length may still come to something.
async fn is_wanted(known: &impl Photos, photo: PhotoHash, length: u64) -> Result<bool, Error> {
    match known.photo(photo).await? {
        Some(row) if !row.whole => Ok(row.cited.length == length || says(known, photo, length).await?),
        _ => Ok(false),
    }
}

/// Returns the pieces that are not here.
fn missing_pieces(row: &PhotoRow) -> Vec<u32> {
    let count = u32::try_from(piece_count(row.cited.length)).unwrap_or(u32::MAX);
    (0..count).filter(|piece| !row.pieces.contains(piece)).collect()
}
