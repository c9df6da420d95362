//! The server's keys: phones know the current one and the next, by the hub's certificate.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Result, ensure};
use bodies::SpkiHash;

use super::ByOrganisation;
use super::opened::{Organisation, standing};
use crate::commands::init::tls_names;
use crate::commands::opened::Place;
use crate::founding::Founding;
use crate::keys::{TlsKey, replace_private};

pub(super) async fn certify(
    place: &Place,
    by: &ByOrganisation,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let mut organisation = Organisation::open(&hub, by).await?;
    let (current, next) =
        (TlsKey::read(&place.folder.tls_key())?, TlsKey::read(&place.folder.next_tls_key())?);
    let tls = vec![current.hash(), next.hash()];
    let standing = standing(&hub, place).await?;
    if standing.tls == tls {
        writeln!(out, "Both keys are certified already. Nothing was changed.")?;
        return Ok(ExitCode::SUCCESS);
    }
    let founding = Founding { tls, ..standing };
    let certificate = founding.certify(&mut organisation.key, hub.clock.now().claimed())?;
    organisation.say(&hub, &[certificate]).await?;
    writeln!(
        out,
        "Certified. Phones learn of the next key the next time they send. Have every phone send once before the next"
    )?;
    writeln!(out, "`headmark-hub key switch`: one that has not would no longer know the server.")?;
    Ok(ExitCode::SUCCESS)
}

pub(super) async fn switch(place: &Place, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let folder = &place.folder;
    let (current, next) = (TlsKey::read(&folder.tls_key())?, TlsKey::read(&folder.next_tls_key())?);
    // A switch that was cut off behind its middle has only the further key left to make.
    if current.hash() != next.hash() {
        let trusted = hub.trusted().await?;
        let standing = trusted.trust().hub(hub.identity.log);
        ensure!(
            standing.is_some_and(|standing| standing.tls.contains(&SpkiHash(next.hash()))),
            "Phones do not know the next key yet. Certify it with `headmark-hub key certify`, and have every phone send once; nothing was changed."
        );
        let names = tls_names(&folder.settings()?.address)?;
        // The certificate first: cut between the two, the same command finishes what it began.
        replace_private(&folder.tls_certificate(), next.certificate(&names)?.as_bytes())?;
        replace_private(&folder.tls_key(), next.pem().as_bytes())?;
    }
    replace_private(&folder.next_tls_key(), TlsKey::make()?.pem().as_bytes())?;
    writeln!(out, "The server shows its next key from its next start on: start `headmark-hub serve` anew.")?;
    writeln!(
        out,
        "Phones that know it go on sending. A further next key is made: certify it with `headmark-hub key certify`."
    )?;
    Ok(ExitCode::SUCCESS)
}
