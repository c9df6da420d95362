//! Photos, as the database knows them: cited, arriving in pieces, whole. The bytes are in a [`crate::PhotoStore`].

use std::collections::BTreeSet;
use std::future::Future;

use bodies::PhotoHash;
use record::LogId;

use crate::Error;

/// A photo that a record cites.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cited {
    /// Its name.
    pub photo: PhotoHash,
    /// Its length in bytes.
    pub length: u64,
    /// What it is (`image/jpeg`).
    pub media: String,
}

/// A photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoRow {
    /// What is said of it.
    pub cited: Cited,
    /// Whether all of it is here.
    pub whole: bool,
    /// The pieces that are here, while it is not whole.
    pub pieces: BTreeSet<u32>,
}

/// Photos.
pub trait Photos {
    /// Returns a photo that is cited.
    fn photo(&self, photo: PhotoHash) -> impl Future<Output = Result<Option<PhotoRow>, Error>> + Send;

    /// Returns for each photo whether all of it is here.
    fn holds_photos(&self, photos: &[PhotoHash]) -> impl Future<Output = Result<Vec<bool>, Error>> + Send;

    /// Returns up to `most` photos that a log cites, the newest first, each with whether all of it is here.
    fn photos_of(
        &self,
        log: LogId,
        most: u32,
    ) -> impl Future<Output = Result<Vec<(PhotoHash, bool)>, Error>> + Send;

    /// Returns up to `most` photos that are cited and not here, after one.
    fn missing_photos(
        &self,
        after: Option<PhotoHash>,
        most: u32,
    ) -> impl Future<Output = Result<Vec<Cited>, Error>> + Send;

    /// Writes down that a piece is here.
    fn piece_came(&self, photo: PhotoHash, piece: u32) -> impl Future<Output = Result<(), Error>> + Send;

    /// Writes down that no piece is here: they have to come anew. What is whole stays so.
    fn forget_pieces(&self, photo: PhotoHash) -> impl Future<Output = Result<(), Error>> + Send;

    /// Writes down that all of it is here (and its pieces are not needed), or that it has to come anew.
    fn set_whole(&self, photo: PhotoHash, whole: bool) -> impl Future<Output = Result<(), Error>> + Send;
}
