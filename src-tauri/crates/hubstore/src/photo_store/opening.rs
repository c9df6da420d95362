//! Which store it is.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use object_store::aws::AmazonS3Builder;
use object_store::local::LocalFileSystem;
use object_store::memory::InMemory;
use object_store::path::Path as Place;
use object_store::{ClientOptions, ObjectStore, RetryConfig, prefix::PrefixStore};

use super::failure::{failure, is_no_bucket, not_made};
use crate::Error;

/// How often a call of an object store is tried again at once. Phones try again by themselves, and wait meanwhile.
const TRIES: usize = 3;
/// After how long it is not tried again.
const TRIED: Duration = Duration::from_secs(15);
/// How long one try may take: a part of a photo is 5 MiB.
const ONE_TRY: Duration = Duration::from_secs(30);
/// How long an object store may take to accept a connection.
const TO_CONNECT: Duration = Duration::from_secs(5);

/// Where an S3-compatible store is.
#[derive(Clone)]
pub struct S3 {
    /// Its address, as `https://objects.example.org`.
    pub endpoint: String,
    /// The region's name; many stores take any.
    pub region: String,
    /// The bucket, which must exist.
    pub bucket: String,
    /// A folder within the bucket; empty for none.
    pub folder: String,
    /// The access key's name.
    pub key: String,
    /// The access key's secret.
    pub secret: String,
}

// By hand, so that no message can ever hold the secret.
impl std::fmt::Debug for S3 {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let S3 { endpoint, bucket, folder, .. } = self;
        out.debug_struct("S3")
            .field("endpoint", endpoint)
            .field("bucket", bucket)
            .field("folder", folder)
            .finish_non_exhaustive()
    }
}

/// The bytes of photos.
#[derive(Debug, Clone)]
pub struct PhotoStore {
    pub(super) objects: Arc<dyn ObjectStore>,
    /// The folder, where it is one: its files have to be synced.
    pub(super) folder: Option<PathBuf>,
}

impl PhotoStore {
    /// Returns an empty store in memory.
    #[must_use]
    pub fn memory() -> PhotoStore {
        PhotoStore { objects: Arc::new(InMemory::new()), folder: None }
    }

    /// Opens a folder, which is made when it is not there.
    ///
    /// # Errors
    ///
    /// What the file system gives.
    pub fn folder(path: &Path) -> Result<PhotoStore, Error> {
        std::fs::create_dir_all(path)?;
        let path = path.canonicalize()?;
        let objects = LocalFileSystem::new_with_prefix(&path).map_err(|error| failure(&error))?;
        Ok(PhotoStore { objects: Arc::new(objects), folder: Some(path) })
    }

    /// Opens a store that speaks S3. Nothing is asked of it yet.
    ///
    /// # Errors
    ///
    /// [`Error::Broken`] when the settings cannot be right.
    pub fn s3(at: &S3) -> Result<PhotoStore, Error> {
        let retry = RetryConfig { max_retries: TRIES, retry_timeout: TRIED, ..RetryConfig::default() };
        let plain = at.endpoint.starts_with("http://");
        let client = ClientOptions::new()
            .with_allow_http(plain)
            .with_timeout(ONE_TRY)
            .with_connect_timeout(TO_CONNECT);
        let objects = AmazonS3Builder::new()
            .with_retry(retry)
            .with_client_options(client)
            .with_endpoint(&at.endpoint)
            .with_region(&at.region)
            .with_bucket_name(&at.bucket)
            .with_access_key_id(&at.key)
            .with_secret_access_key(&at.secret)
            .build()
            .map_err(|error| failure(&error))?;
        let objects: Arc<dyn ObjectStore> = match at.folder.as_str() {
            "" => Arc::new(objects),
            folder => Arc::new(PrefixStore::new(objects, Place::from(folder))),
        };
        Ok(PhotoStore { objects, folder: None })
    }

    /// Returns whether the store can be asked: for health.
    ///
    /// # Errors
    ///
    /// Why it cannot; also that its bucket or folder is not there.
    pub async fn ready(&self) -> Result<(), Error> {
        // Asked for with its bytes: only then does S3 say which of the two is not there, the object or the bucket.
        match self.objects.get(&Place::from("photos")).await {
            Ok(_) => Ok(()),
            Err(error) if is_no_bucket(&error) => Err(not_made(&error)),
            Err(object_store::Error::NotFound { .. }) => Ok(()),
            Err(error) => Err(failure(&error)),
        }
    }
}
