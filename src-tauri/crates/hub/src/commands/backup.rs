//! `backup`: the hub's data and photos, in a new folder.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use bodies::Grade;
use hubstore::{AnyStore, Opening};

use super::opened::Place;
use super::photographs::Copied;
use crate::backing::copy;
use crate::exchange::receipts_of;
use crate::folder::Folder;
use crate::keys::{make_folder, write_private};
use crate::lost::{asked_again, take_up};

pub(super) async fn backup(place: &Place, to: &Path, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    ensure!(!to.exists(), "{} is there already. Name a folder that is not there yet.", to.display());
    let hub = place.hub().await?;
    let copied = Folder::at(to);
    make_folder(to)?;
    make_folder(&to.join("keys"))?;
    let store: AnyStore = Opening::at(copied.database()).open()?.into();
    let kept = place.photo_store()?;
    let found = take_up(&hub.store, &kept).await?;
    let entries = copy(&hub.store, &store).await?;
    let tls = [
        (place.folder.tls_key(), copied.tls_key()),
        (place.folder.next_tls_key(), copied.next_tls_key()),
        (place.folder.tls_certificate(), copied.tls_certificate()),
    ];
    for (from, to) in tls {
        let bytes = zeroize::Zeroizing::new(
            std::fs::read(&from).with_context(|| format!("{} could not be read.", from.display()))?,
        );
        write_private(&to, &bytes)?;
    }
    let Copied { photos, lost } = place.copy_photos(&store, &copied).await?;
    // Before the phones are told: what they were told until now says whether they may have freed one.
    let mut missed = Vec::new();
    for photo in lost {
        missed.extend(asked_again(&hub.store, &kept, photo).await?);
    }
    // Last: a backup without its settings was cut short and is none.
    copied.put_settings(&place.folder.settings()?)?;
    let trusted = hub.trusted().await?;
    let phones: BTreeSet<_> = trusted.trust().devices().map(|(log, _)| log).collect();
    let said = receipts_of(&hub, &store, &phones, Grade::BackedUp).await?;
    let told = said.into_iter().map(|(log, _)| log).collect::<BTreeSet<_>>().len();
    writeln!(
        out,
        "{entries} records and {photos} photos are in {}; {told} phones are told that theirs are backed up.",
        to.display()
    )?;
    if found > 0 {
        writeln!(out, "{found} photos that were missing lie in their place again and were taken up.")?;
    }
    missed.iter().try_for_each(|lost| writeln!(out, "{lost}"))?;
    if let Err(error) = kept.clear_pieces(&hub.store).await {
        tracing::warn!(%error, "pieces of photos could not be cleared; the next backup tries again");
    }
    writeln!(
        out,
        "Take the folder off this machine, and keep it as private as the hub: it holds the keys for TLS, and all records."
    )?;
    writeln!(
        out,
        "The hub's own key is not in it: `headmark-hub restore` makes a new one, with the organisation key."
    )?;
    Ok(ExitCode::SUCCESS)
}
