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
    /// What is said of it. The length is the one that was said first, until it is whole: then it is the true one.
    pub cited: Cited,
    /// Whether all of it is here.
    pub whole: bool,
    /// The pieces that are here of a photo of this length, while it is not whole.
    pub pieces: BTreeSet<u32>,
}

/// What the newest record of a log says of a photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Citation {
    /// The log.
    pub log: LogId,
    /// The length in bytes, as its signer says.
    pub length: u64,
    /// The instrument's tag; may be empty.
    pub tag: String,
}

/// Photos. Two records may name one photo with two lengths, and only its bytes can tell which is true: pieces are kept by
/// the length of the photo that they are of, so that those of one length never stand in the way of another's.
pub trait Photos {
    /// Returns a photo that is cited.
    fn photo(&self, photo: PhotoHash) -> impl Future<Output = Result<Option<PhotoRow>, Error>> + Send;

    /// Returns a photo that is cited, as it stands when this is its length. One that is whole has its own length.
    fn photo_as(
        &self,
        photo: PhotoHash,
        length: u64,
    ) -> impl Future<Output = Result<Option<PhotoRow>, Error>> + Send;

    /// Returns what each log that cites a photo says of it, in the order in which that came.
    fn citations(&self, photo: PhotoHash) -> impl Future<Output = Result<Vec<Citation>, Error>> + Send;

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

    /// Writes down that a piece of a photo of this length is here.
    fn piece_came(
        &self,
        photo: PhotoHash,
        length: u64,
        piece: u32,
    ) -> impl Future<Output = Result<(), Error>> + Send;

    /// Writes down that no piece of a photo of this length is here: they have to come anew. What is whole stays so.
    fn forget_pieces(&self, photo: PhotoHash, length: u64) -> impl Future<Output = Result<(), Error>> + Send;

    /// Writes down that all of it is here, and that this is its length. Pieces of any length are not needed then.
    fn came_whole(&self, photo: PhotoHash, length: u64) -> impl Future<Output = Result<(), Error>> + Send;

    /// Writes down that it is not here and has to come anew.
    fn went_missing(&self, photo: PhotoHash) -> impl Future<Output = Result<(), Error>> + Send;
}
