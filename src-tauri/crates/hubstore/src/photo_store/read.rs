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

    /// Returns all of a photo, bit by bit; none where it is not here. It is proved on the way: the last bit comes only when
    /// all of it came to its hash.
    ///
    /// # Errors
    ///
    /// What storage gives, here or in the stream; in the stream [`Error::WrongPhoto`] in place of the last bit.
    pub async fn read(
        &self,
        photo: PhotoHash,
    ) -> Result<Option<BoxStream<'static, Result<Bytes, Error>>>, Error> {
        match self.objects.get(&place(photo)).await {
            Ok(found) => {
                let bytes = found.into_stream().map_err(|error| failure(&error)).boxed();
                Ok(Some(proved(photo, bytes)))
            }
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
        loop {
            match bytes.try_next().await {
                Ok(Some(_)) => {}
                Ok(None) => return Ok(true),
                Err(Error::WrongPhoto { .. }) => return Ok(false),
                Err(error) => return Err(error),
            }
        }
    }
}

/// Bits of a photo, hashed as they pass.
struct Passing {
    bytes: BoxStream<'static, Result<Bytes, Error>>,
    hash: blake3::Hasher,
    /// The one that goes out when the next is here.
    held: Option<Bytes>,
}

fn proved(
    photo: PhotoHash,
    bytes: BoxStream<'static, Result<Bytes, Error>>,
) -> BoxStream<'static, Result<Bytes, Error>> {
    let passing = Passing { bytes: bytes.fuse().boxed(), hash: blake3::Hasher::new(), held: None };
    let next = move |mut passing: Passing| async move {
        while let Some(part) = passing.bytes.try_next().await? {
            passing.hash.update(&part);
            if let Some(before) = passing.held.replace(part) {
                return Ok(Some((before, passing)));
            }
        }
        if passing.hash.finalize() != blake3::Hash::from_bytes(photo.0) {
            return Err(Error::WrongPhoto { photo, what: "its hash is another" });
        }
        Ok(passing.held.take().map(|last| (last, passing)))
    };
    futures_util::stream::try_unfold(passing, next).boxed()
}
