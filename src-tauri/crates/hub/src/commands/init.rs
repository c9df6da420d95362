//! `init`: a new hub.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use exchange::enrol::LONGEST_ADDRESS;
use hubstore::{Arrival, Ledger, Meta};
use record::{SecretKey, Signer};

use super::arguments::Init;
use super::opened::Place;
use super::secret::new_secret;
use crate::Store;
use crate::chance;
use crate::clock::Clock;
use crate::folder::{Folder, SETTINGS_FORMAT, Settings};
use crate::founding::Founding;
use crate::keys::{Cost, OrganisationFile, OrganisationKey, Passphrase, TlsKey, write_private};

pub(super) async fn init(place: &Place, init: &Init, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let names = tls_names(&init.address)?;
    fits_a_code(&init.address)?;
    let passphrase =
        Passphrase::new(new_secret("passphrase for the organisation key", init.passphrase_file.as_deref())?)?;
    place.folder.make()?;
    let store = place.store().await?;
    holds_nothing(&store).await?;
    let mut organisation = OrganisationKey::make()?;
    let (hub, tls) = make_keys(&place.folder, &names)?;
    let founding = Founding {
        hub: hub.public().clone(),
        label: init.label.clone(),
        tls,
        epoch: chance::bytes()?,
        replaces: None,
    };
    let certificate = founding.certify(&mut organisation, Clock::System.now().claimed())?;
    let file = place.folder.organisation_file();
    OrganisationFile::at(&file).keep(&organisation, &passphrase, Cost::USUAL)?;
    founding.begin(&store, organisation.public(), &certificate, None).await?;
    let settings =
        Settings { format: SETTINGS_FORMAT.into(), label: init.label.clone(), address: init.address.clone() };
    place.folder.put_settings(&settings)?;
    told(out, place.folder.path(), &file)?;
    Ok(ExitCode::SUCCESS)
}

/// A hub of this database goes on being that hub: another certificate in it would end it.
async fn holds_nothing(store: &Store) -> Result<()> {
    let empty = store.identity().await?.is_none() && store.newest().await? == Arrival::default();
    ensure!(
        empty,
        "The database holds a hub already, and goes on holding it. For one more process of that hub, copy its hub.json and keys here instead. For a new hub, name an empty database. Nothing was made."
    );
    Ok(())
}

fn told(out: &mut (dyn Write + Send), folder: &Path, file: &Path) -> Result<()> {
    writeln!(out, "The hub is made in {}.", folder.display())?;
    writeln!(out)?;
    writeln!(
        out,
        "MOVE {} OFF THIS MACHINE NOW, onto two cards or sticks that are locked away.",
        file.display()
    )?;
    writeln!(
        out,
        "Whoever has it and its passphrase can make hubs that every phone trusts; without it no lost hub can"
    )?;
    writeln!(out, "be replaced. The hub does not need it to run.")?;
    writeln!(out)?;
    writeln!(
        out,
        "Next: write yourself down with `headmark-hub person add NAME --role administer`, take the register in"
    )?;
    writeln!(
        out,
        "with `headmark-hub import FILE --dry-run`, start the hub with `headmark-hub serve`, and enrol phones with"
    )?;
    writeln!(out, "`headmark-hub enrol`.")?;
    Ok(())
}

/// Makes the hub's own key and those for TLS, and returns it with the hashes that its certificate names.
pub(super) fn make_keys(folder: &Folder, names: &[String]) -> Result<(SecretKey, Vec<[u8; 32]>)> {
    let hub = make_hub_key(folder)?;
    let (current, next) = (TlsKey::make()?, TlsKey::make()?);
    current.write(&folder.tls_key())?;
    next.write(&folder.next_tls_key())?;
    write_private(&folder.tls_certificate(), current.certificate(names)?.as_bytes())?;
    Ok((hub, vec![current.hash(), next.hash()]))
}

/// Makes the hub's own key.
pub(super) fn make_hub_key(folder: &Folder) -> Result<SecretKey> {
    let mut secret = zeroize::Zeroizing::new(chance::bytes::<32>()?);
    write_private(&folder.hub_key(), secret.as_slice())?;
    Ok(SecretKey::take(&mut secret))
}

/// The names that the server's certificate is made out to. Phones do not look at them; browsers do.
pub(super) fn tls_names(address: &str) -> Result<Vec<String>> {
    let wrong = "The address is to be written as https://HOST or https://HOST:PORT, without anything behind.";
    let rest = address.strip_prefix("https://").context(wrong)?;
    let host = match rest.strip_prefix('[') {
        Some(rest) => rest.split_once(']').context(wrong)?.0,
        None => rest.split_once(':').map_or(rest, |(host, _)| host),
    };
    let plain = |letter: char| letter.is_ascii_alphanumeric() || ".-:".contains(letter);
    ensure!(!host.is_empty() && host.chars().all(plain) && !rest.contains(['/', '?', '#', '&', '@']), wrong);
    Ok(vec![host.to_owned(), "localhost".to_owned()])
}

/// A phone gets the address by the code that enrols it.
fn fits_a_code(address: &str) -> Result<()> {
    ensure!(
        address.len() <= LONGEST_ADDRESS,
        "The address is {} letters long, and the code that enrols a phone holds {LONGEST_ADDRESS} at most. Give this machine a shorter name, or use its number on the network. Nothing was made.",
        address.len()
    );
    Ok(())
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("https://hub.marrowby.example", Some("hub.marrowby.example"))]
    #[case("https://hub.marrowby.example:8443", Some("hub.marrowby.example"))]
    #[case("https://10.20.0.4:8443", Some("10.20.0.4"))]
    #[case("https://[fd00::4]:8443", Some("fd00::4"))]
    #[case("http://hub.marrowby.example", None)]
    #[case("https://hub.marrowby.example/x", None)]
    #[case("https://user@hub", None)]
    #[case("https://", None)]
    #[case("hub", None)]
    fn an_address_is_a_host_behind_https(#[case] address: &str, #[case] host: Option<&str>) {
        assert_eq!(tls_names(address).ok().map(|names| names[0].clone()).as_deref(), host);
    }
}
