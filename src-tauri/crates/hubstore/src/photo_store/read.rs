//! A photo that is asked for.

use std::ops::Range;

use bodies::PhotoHash;
use bytes::Bytes;
use futures_util::stream::BoxStream;
use futures_util::{StreamExt, TryStreamExt};
use object_store::ObjectStore;

use super::PhotoStore;
use super::failure::failure;
use super::names::place;
use crate::Error;

impl PhotoStore {
    /// Returns the length of a photo in bytes; none where it is not here.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub async fn length(&self, photo: PhotoHash) -> Result<Option<u64>, Error> {
        match self.objects.head(&place(photo)).await {
            Ok(found) => Ok(Some(found.size)),
            Err(object_store::Error::NotFound { .. }) => Ok(None),
            Err(error) => Err(failure(&error)),
        }
    }

    /// Returns a part of a photo; none where the photo is not here.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub async fn part(&self, photo: PhotoHash, range: Range<u64>) -> Result<Option<Bytes>, Error> {
        match self.objects.get_range(&place(photo), range).await {
            Ok(bytes) => Ok(Some(bytes)),
            Err(object_store::Error::NotFound { .. }) => Ok(None),
            Err(error) => Err(failure(&error)),
        }
    }

    /// Returns all of a photo, bit by bit; none where it is not here.
    ///
    /// # Errors
    ///
    /// What storage gives, here or in the stream.
    pub async fn read(
        &self,
        photo: PhotoHash,
    ) -> Result<Option<BoxStream<'static, Result<Bytes, Error>>>, Error> {
        match self.objects.get(&place(photo)).await {
            Ok(found) => Ok(Some(found.into_stream().map_err(|error| failure(&error)).boxed())),
            Err(object_store::Error::NotFound { .. }) => Ok(None),
            Err(error) => Err(failure(&error)),
        }
    }

    /// Reads a photo through and returns whether it is here and is what its name says.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub async fn is_sound(&self, photo: PhotoHash) -> Result<bool, Error> {
        let Some(mut bytes) = self.read(photo).await? else { return Ok(false) };
        let mut hash = blake3::Hasher::new();
        while let Some(part) = bytes.next().await {
            hash.update(&part?);
        }
        Ok(hash.finalize() == blake3::Hash::from_bytes(photo.0))
    }
}
