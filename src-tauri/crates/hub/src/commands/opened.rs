//! Where the hub is, and opening it.

use std::path::Path;

use anyhow::{Context, Result};
use bodies::PersonId;
use hubstore::HubPerson;
use hubstore::{Meta, People};
use record::{LogId, SecretKey, Signer, Strict};

use super::Arguments;
use crate::Store;
use crate::clock::Clock;
use crate::folder::Folder;
use crate::home::{Hub, Signing};
use crate::keys::{read_key, replace_private};
use crate::storage;

/// Where the hub is.
#[derive(Debug, Clone)]
pub(super) struct Place {
    pub(super) folder: Folder,
    pub(super) database: Option<String>,
    pub(super) photos: Option<String>,
}

impl Place {
    pub(super) fn of(arguments: &Arguments) -> Place {
        Place {
            folder: Folder::at(&arguments.folder),
            database: arguments.database.clone(),
            photos: arguments.photos.clone(),
        }
    }

    /// Opens the storage alone.
    pub(super) async fn store(&self) -> Result<Store> {
        Ok(storage::open(&self.folder, self.database.as_deref()).await?)
    }

    /// Opens the hub that is there.
    pub(super) async fn hub(&self) -> Result<Hub<Store>> {
        self.folder.settings()?;
        let store = self.store().await?;
        let log = store.identity().await?.map(|identity| identity.log);
        let key = log.map(|log| self.renewed(log)).transpose()?.flatten();
        let key = key.map_or_else(|| self.key_in(&self.folder.hub_key()), Ok)?;
        Ok(Hub::open(store, Signing { key, proof: Strict }, Clock::System).await?)
    }

    fn key_in(&self, path: &Path) -> Result<SecretKey> {
        let mut secret = read_key(path)?;
        Ok(SecretKey::take(&mut secret))
    }

    /// Puts the hub's next key in the place of its key, once the hub has begun to sign with it: where giving it the key
    /// was cut off, this finishes it.
    fn renewed(&self, log: LogId) -> Result<Option<SecretKey>> {
        let path = self.folder.next_hub_key();
        if !path.exists() {
            return Ok(None);
        }
        let key = self.key_in(&path)?;
        if key.public().log() != log {
            return Ok(None);
        }
        replace_private(&self.folder.hub_key(), read_key(&path)?.as_slice())?;
        std::fs::remove_file(&path).with_context(|| format!("{} could not be removed.", path.display()))?;
        Ok(Some(key))
    }
}

/// Finds who gives a command, where somebody is named.
pub(super) async fn by(hub: &Hub<Store>, name: Option<&str>) -> Result<Option<PersonId>> {
    match name {
        Some(name) => Ok(Some(named(hub, name).await?.id)),
        None => Ok(None),
    }
}

/// Finds a person by name.
pub(super) async fn named(hub: &Hub<Store>, name: &str) -> Result<HubPerson> {
    let person = hub.store.person_named(name).await?;
    person.with_context(|| {
        "Nobody of this name is written down here. See `headmark-hub person list`, or add them with `headmark-hub person add`."
    })
}
