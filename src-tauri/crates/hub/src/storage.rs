//! Which storage a hub has: a SQLite file in its folder, or a PostgreSQL that is named.

use hubstore::{AnyStore, Connecting, Opening};

use crate::Error;
use crate::folder::Folder;

/// The storage of a hub.
pub type Store = AnyStore;

/// Opens the storage.
///
/// # Errors
///
/// What the store says.
pub async fn open(folder: &Folder, database: Option<&str>) -> Result<Store, Error> {
    match database {
        None => Ok(Opening::at(folder.database()).open()?.into()),
        Some(address) => Ok(Connecting::to(address).open().await?.into()),
    }
}
