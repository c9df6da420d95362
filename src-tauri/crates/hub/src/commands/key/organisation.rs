//! The organisation's next key.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Result, ensure};

use super::ByOrganisation;
use super::opened::{Organisation, standing};
use crate::commands::opened::Place;
use crate::commands::secret::new_secret;
use crate::keys::{Cost, OrganisationFile, OrganisationKey, Passphrase};
use crate::organising;

pub(super) async fn succeed(
    place: &Place,
    by: &ByOrganisation,
    (to, passphrase_file): (&Path, Option<&Path>),
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    ensure!(!to.exists(), "{} is there already. Name a file that is not there yet.", to.display());
    let hub = place.hub().await?;
    let mut old = Organisation::open(&hub, by).await?;
    let passphrase =
        Passphrase::new(new_secret("passphrase for the new organisation key", passphrase_file)?)?;
    let mut new = OrganisationKey::make()?;
    let now = hub.clock.now().claimed();
    let certificate = standing(&hub, place).await?.certify(&mut new, now)?;
    // The new file first: a key that was named and is nowhere would end the organisation's word for good.
    OrganisationFile::at(to).keep(&new, &passphrase, Cost::USUAL)?;
    let named = organising::succeed(&mut old.key, new.public(), now)?;
    old.keep()?;
    let keys = [old.key.public(), new.public()];
    organising::publish(&hub.store, &keys, &[named, certificate]).await?;
    writeln!(
        out,
        "The organisation's new key is in {}. MOVE IT OFF THIS MACHINE NOW, onto two cards or sticks",
        to.display()
    )?;
    writeln!(
        out,
        "that are locked away. Phones learn of it the next time they send; none is enrolled anew, and invitations"
    )?;
    writeln!(
        out,
        "go on naming the first key. Keep the old file too, sealed: it says nothing more that counts."
    )?;
    Ok(ExitCode::SUCCESS)
}
