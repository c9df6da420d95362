//! Photos beside the data: where they are kept, and copying them.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::{Context, Result};
use bodies::PhotoHash;
use hubstore::{PhotoStore, Photos, S3};

use super::opened::Place;
use crate::Store;
use crate::backing::all_logs;
use crate::folder::Folder;

impl Place {
    /// Opens where photos are kept.
    pub(super) fn photo_store(&self) -> Result<PhotoStore> {
        match self.photos.as_deref() {
            None => Ok(PhotoStore::folder(&self.folder.photos())?),
            Some(text) => match text.strip_prefix("s3://") {
                Some(bucket) => Ok(PhotoStore::s3(&s3(bucket)?)?),
                None => Ok(PhotoStore::folder(Path::new(text))?),
            },
        }
    }

    /// Copies into a backup's folder the photos that its database holds.
    pub(super) async fn copy_photos(&self, held: &Store, to: &Folder) -> Result<Copied> {
        copy(held, &self.photo_store()?, &PhotoStore::folder(&to.photos())?).await
    }

    /// Takes the photos of a backup that the restored database holds.
    pub(super) async fn take_photos(&self, held: &Store, backup: &Folder) -> Result<Copied> {
        copy(held, &PhotoStore::folder(&backup.photos())?, &self.photo_store()?).await
    }
}

/// What came of copying photos.
#[derive(Debug, Default)]
pub(super) struct Copied {
    /// How many came.
    pub(super) photos: u64,
    /// Those that are lost or spoilt where they were copied from.
    pub(super) lost: Vec<PhotoHash>,
}

/// Copies every photo that a database calls whole. One whose bytes are lost or spoilt has to come anew from a phone, and
/// the database that belongs to the copy is told so; the one that it was copied from is the caller's.
async fn copy(held: &Store, from: &PhotoStore, to: &PhotoStore) -> Result<Copied> {
    // A store that is not there would look like one whose photos are all lost.
    from.ready().await?;
    let mut copied = Copied::default();
    let mut seen = BTreeSet::new();
    for row in all_logs(held).await? {
        let photos = held.photos_of(row.log, u32::MAX).await?;
        for (photo, _) in photos.into_iter().filter(|(photo, whole)| *whole && seen.insert(*photo)) {
            match to.copy_from(from, photo).await {
                Ok(()) => copied.photos += 1,
                Err(hubstore::Error::WrongPhoto { .. }) => {
                    held.went_missing(photo).await?;
                    copied.lost.push(photo);
                }
                Err(error) => return Err(error.into()),
            }
        }
    }
    Ok(copied)
}

/// Where an S3-compatible store is: the bucket and folder from the command line, the rest from the environment, which
/// no list of processes shows.
fn s3(bucket: &str) -> Result<S3> {
    let variable = |name: &str| {
        std::env::var(name)
            .with_context(|| format!("{name} is not set. Set it for a store of photos that speaks S3."))
    };
    let (bucket, folder) = bucket.split_once('/').unwrap_or((bucket, ""));
    Ok(S3 {
        endpoint: variable("HEADMARK_S3_ENDPOINT")?,
        region: std::env::var("HEADMARK_S3_REGION").unwrap_or_else(|_| "us-east-1".into()),
        bucket: bucket.to_owned(),
        folder: folder.trim_end_matches('/').to_owned(),
        key: variable("HEADMARK_S3_KEY")?,
        secret: variable("HEADMARK_S3_SECRET")?,
    })
}
