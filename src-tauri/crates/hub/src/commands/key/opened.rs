//! The organisation key, opened for one act.

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};
use hubstore::Ledger;
use record::{EntryId, Sealed};

use crate::Store;
use crate::commands::opened::Place;
use crate::commands::secret::passphrase;
use crate::founding::Founding;
use crate::home::Hub;
use crate::keys::{Cost, OrganisationFile, OrganisationKey, Passphrase};
use crate::organising::publish;
use crate::settling::settle;

/// Where the organisation key is.
#[derive(Debug, clap::Args)]
pub struct ByOrganisation {
    /// The organisation key's file.
    #[arg(long)]
    pub organisation: PathBuf,
    /// A file whose first line is its passphrase; asked for where it is left out.
    #[arg(long)]
    pub passphrase_file: Option<PathBuf>,
}

/// The organisation key, and where it is kept.
pub(super) struct Organisation {
    pub(super) key: OrganisationKey,
    file: OrganisationFile,
    passphrase: Passphrase,
}

impl Organisation {
    /// Opens it, if it is the one that signs for this hub now.
    pub(super) async fn open(hub: &Hub<Store>, by: &ByOrganisation) -> Result<Organisation> {
        let passphrase = passphrase(by.passphrase_file.as_deref())?;
        let file = OrganisationFile::at(&by.organisation);
        let mut key = file.open(&passphrase)?;
        let trusted = hub.trusted().await?;
        let (signs, log) = (trusted.trust().organisation(), key.public().log());
        ensure!(
            signs == log || !trusted.trust().is_organisation(log),
            "This organisation key has named its successor and says nothing more that counts. Bring the newer file; nothing was changed."
        );
        ensure!(
            signs == log,
            "This organisation key is not the one of this hub. Bring the right file; nothing was changed."
        );
        // An older copy of the file does not know what other copies signed; the ledger does.
        if let Some((seq, payload)) = hub.store.tip(log).await? {
            key.saw(EntryId { log, seq, payload });
        }
        Ok(Organisation { key, file, passphrase })
    }

    /// Keeps the file anew. Only then may be used what was signed.
    pub(super) fn keep(&self) -> Result<()> {
        Ok(self.file.keep(&self.key, &self.passphrase, Cost::USUAL)?)
    }

    /// Keeps the file anew and puts what was signed into the hub's ledger and lists.
    pub(super) async fn say(&self, hub: &Hub<Store>, entries: &[Sealed]) -> Result<()> {
        self.keep()?;
        publish(&hub.store, &[self.key.public()], entries).await?;
        Ok(settle(hub).await?)
    }
}

/// What the organisation says of this hub now, to be said anew.
pub(super) async fn standing(hub: &Hub<Store>, place: &Place) -> Result<Founding> {
    let trusted = hub.trusted().await?;
    let standing = trusted.trust().hub(hub.identity.log);
    let standing = standing.context("The organisation certified no such hub.")?;
    Ok(Founding {
        hub: standing.key.clone(),
        label: place.folder.settings()?.label,
        tls: standing.tls.iter().map(|key| key.0).collect(),
        epoch: hub.identity.epoch.0,
        replaces: standing.replaces,
    })
}
