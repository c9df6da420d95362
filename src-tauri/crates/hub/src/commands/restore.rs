//! `restore`: a hub out of a backup, in a new epoch and with a new key.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result, bail};
use hubstore::{AnyStore, Ledger, Meta, Opening, People};
use record::{EntryId, LogId, PublicKey, Sealed, Signer};

use super::arguments::Restore;
use super::init::{make_hub_key, tls_names};
use super::opened::Place;
use super::phones::{show, to_be_done};
use super::photographs::Copied;
use super::revoke::newest;
use super::secret::passphrase;
use crate::Store;
use crate::backing::copy;
use crate::chance;
use crate::clock::Clock;
use crate::folder::Folder;
use crate::founding::Founding;
use crate::keys::{Cost, OrganisationFile, OrganisationKey, TlsKey, write_private};
use crate::lost::Lost;
use crate::names::hex;
use crate::organising::{publish, revoke};
use crate::restoring::Restored;
use crate::trusted::Trusted;

pub(super) async fn restore(
    place: &Place,
    asked: &Restore,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let backup = Folder::at(&asked.from);
    let settings = backup.settings().context("This is no whole backup.")?;
    let kept: AnyStore = Opening::at(backup.database()).open()?.into();
    let identity = kept.identity().await?.context("The backup holds no hub. Take another one.")?;
    let passphrase = passphrase(asked.passphrase_file.as_deref())?;
    let file = OrganisationFile::at(&asked.organisation);
    let mut organisation = file.open(&passphrase)?;
    let root = PublicKey::from_cose(&identity.organisation)?;
    let mut trusted = Trusted::rooted_in(&root);
    trusted.catch_up(&kept).await?;
    if organisation.public().log() != trusted.trust().organisation() {
        bail!(
            "This organisation key is not the one of the backup's hub. Bring the right file; nothing was changed."
        );
    }
    // An older copy of the file does not know what other copies signed; the backup does.
    let log = organisation.public().log();
    if let Some((seq, payload)) = kept.tip(log).await? {
        organisation.saw(EntryId { log, seq, payload });
    }
    let restored = Restored::from_backup(&kept, &identity).await?;
    place.folder.make()?;
    let entries = copy(&kept, &place.store().await?).await?;
    let hub = make_hub_key(&place.folder)?;
    let tls = take_tls(&backup, &place.folder, &settings.address)?;
    let founding = Founding {
        hub: hub.public().clone(),
        label: settings.label.clone(),
        tls,
        epoch: chance::bytes()?,
        replaces: Some(identity.log),
    };
    let certificate = founding.certify(&mut organisation, Clock::System.now().claimed())?;
    let store = place.store().await?;
    let stolen = match asked.by.as_deref().filter(|_| asked.stolen) {
        Some(name) => Some(stolen(&store, &mut organisation, identity.log, name).await?),
        None => None,
    };
    file.keep(&organisation, &passphrase, Cost::USUAL)?;
    founding.begin(&store, &root, &certificate, Some(&restored)).await?;
    if let Some(said) = stolen {
        publish(&store, &[organisation.public()], &[said]).await?;
    }
    let Copied { photos, lost } = place.take_photos(&store, &backup).await?;
    place.folder.put_settings(&settings)?;
    told(out, place.folder.path(), entries, photos)?;
    for photo in lost {
        writeln!(out, "{}", Lost::of(&store, photo).await?)?;
    }
    if !asked.stolen {
        writeln!(
            out,
            "The old hub's key is still trusted, so that what it said after the backup may come back. Once every phone has"
        )?;
        writeln!(
            out,
            "sent, put it away: `headmark-hub key revoke {} --reason TEXT --by NAME --organisation FILE`.",
            hex(&identity.log.0)
        )?;
    }
    writeln!(out)?;
    writeln!(out, "The phones, as the backup has them:")?;
    show(&place.hub().await?, out).await?;
    to_be_done(&restored, out)?;
    Ok(ExitCode::SUCCESS)
}

/// Says that what the old hub signed behind the backup counts in nothing.
async fn stolen(store: &Store, organisation: &mut OrganisationKey, old: LogId, name: &str) -> Result<Sealed> {
    let person = store.person_named(name).await?;
    let person =
        person.context("Nobody of this name is written down in the backup. Name somebody who is.")?;
    let last = newest(store, old).await?;
    let now = Clock::System.now().claimed();
    Ok(revoke(organisation, old, last, ("in other hands", person.id), now)?)
}

fn told(out: &mut (dyn Write + Send), folder: &Path, entries: u64, photos: u64) -> Result<()> {
    writeln!(out, "{entries} records and {photos} photos are restored into {}.", folder.display())?;
    writeln!(
        out,
        "The hub has a new key in a new epoch. Codes, sessions and sign-ins of before are over. Phones compare"
    )?;
    writeln!(out, "what they hold the next time they send, and give back what came after the backup.")?;
    writeln!(
        out,
        "Never start the old hub again. Put the organisation key away. Next: `headmark-hub serve`."
    )?;
    Ok(())
}

/// Takes the keys for TLS over, since phones know no others, and makes a next one.
fn take_tls(backup: &Folder, to: &Folder, address: &str) -> Result<Vec<[u8; 32]>> {
    let current = TlsKey::read(&backup.tls_key())?;
    let next = TlsKey::read(&backup.next_tls_key())?;
    current.write(&to.tls_key())?;
    next.write(&to.next_tls_key())?;
    write_private(&to.tls_certificate(), current.certificate(&tls_names(address)?)?.as_bytes())?;
    Ok(vec![current.hash(), next.hash()])
}
