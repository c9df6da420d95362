//! The hub's own key: a new one, and an end to an old one.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use bodies::LastTrusted;
use record::{LogId, SecretKey, Signer};

use super::ByOrganisation;
use super::opened::Organisation;
use crate::Store;
use crate::chance;
use crate::commands::opened::{Place, named};
use crate::commands::revoke::{last, newest};
use crate::founding::Founding;
use crate::home::Hub;
use crate::keys::{TlsKey, read_key, write_private};
use crate::names::{hex, unhex};
use crate::organising;

pub(super) async fn renew(
    place: &Place,
    by: &ByOrganisation,
    (reason, name): (&str, &str),
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    // Whoever serves has the old key in hand.
    let _lock = if place.database.is_none() { Some(place.folder.lock()?) } else { None };
    let hub = place.hub().await?;
    let person = named(&hub, name).await?;
    let mut organisation = Organisation::open(&hub, by).await?;
    let (old, key) = (hub.identity.log, next_key(place)?);
    let folder = &place.folder;
    let founding = Founding {
        hub: key.public().clone(),
        label: folder.settings()?.label,
        tls: vec![TlsKey::read(&folder.tls_key())?.hash(), TlsKey::read(&folder.next_tls_key())?.hash()],
        epoch: chance::bytes()?,
        replaces: Some(old),
    };
    let certificate = founding.certify(&mut organisation.key, hub.clock.now().claimed())?;
    organisation.keep()?;
    founding.begin(&hub.store, hub.organisation(), &certificate, None).await?;
    drop(hub);
    // Opening puts the new key in the place of the old one, also where this is cut off here.
    let hub = place.hub().await?;
    put_away(&hub, &mut organisation, (old, newest(&hub.store, old).await?), (reason, &person)).await?;
    writeln!(
        out,
        "The hub has a new key in a new epoch; what the old one signed so far counts, and nothing after."
    )?;
    writeln!(
        out,
        "Codes, sessions and sign-ins of before are over. Next: `headmark-hub serve`. Where several processes"
    )?;
    writeln!(out, "share a database, give each the new keys/hub.key before it starts again.")?;
    Ok(ExitCode::SUCCESS)
}

pub(super) async fn revoke(
    place: &Place,
    by: &ByOrganisation,
    (log, place_of): (&str, Option<&str>),
    (reason, name): (&str, &str),
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let person = named(&hub, name).await?;
    let log = unhex(log)
        .map(LogId)
        .context("A log is named by 64 small hexadecimal digits; `headmark-hub status` lists them.")?;
    ensure!(
        log != hub.identity.log,
        "This is the hub that is in use. Give it a new key with `headmark-hub key renew`, which puts this one away."
    );
    let is_hub = hub.trusted().await?.trust().hub(log).is_some();
    ensure!(
        is_hub,
        "The organisation certified no hub with this log; `headmark-hub status` lists former hubs."
    );
    let last = match place_of {
        None => newest(&hub.store, log).await?,
        Some(place_of) => last(&hub.store, log, place_of).await?,
    };
    let mut organisation = Organisation::open(&hub, by).await?;
    put_away(&hub, &mut organisation, (log, last), (reason, &person)).await?;
    let upto = last.map_or(0, |last| last.seq.get());
    writeln!(
        out,
        "Revoked. What {} signed up to place {upto} counts, and nothing after; phones learn of it the next time they send.",
        hex(&log.0)
    )?;
    Ok(ExitCode::SUCCESS)
}

async fn put_away(
    hub: &Hub<Store>,
    organisation: &mut Organisation,
    (log, last): (LogId, Option<LastTrusted>),
    (reason, person): (&str, &hubstore::HubPerson),
) -> Result<()> {
    let now = hub.clock.now().claimed();
    let said = organising::revoke(&mut organisation.key, log, last, (reason, person.id), now)?;
    organisation.say(hub, &[said]).await
}

/// The key that is to come: one that a run which was cut off has made already, or a new one.
fn next_key(place: &Place) -> Result<SecretKey> {
    let path = place.folder.next_hub_key();
    if !path.exists() {
        write_private(&path, zeroize::Zeroizing::new(chance::bytes::<32>()?).as_slice())?;
    }
    let mut secret = read_key(&path)?;
    Ok(SecretKey::take(&mut secret))
}
