//! `enrol`: a code on the screen, six digits on both sides, a certificate.

use std::io::{BufRead, Write};
use std::process::ExitCode;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use bodies::PersonId;
use hubstore::{Access, Enrolment};

use super::arguments::Enrol;
use super::opened::{Place, by, named};
use crate::Store;
use crate::chance;
use crate::enrol::{CODE_SECONDS, Invitation, Offer, Picture, confirm, offer};
use crate::home::Hub;

/// How often it is looked whether the phone has asked.
const LOOK: Duration = Duration::from_millis(500);

pub(super) async fn enrol(place: &Place, asked: &Enrol, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let hub = place.hub().await?;
    // Before a code is shown: nobody waits at a phone for a name that is not here.
    let by = by(&hub, asked.by.as_deref()).await?;
    if let Some(digits) = &asked.confirm {
        return confirm_waiting(&hub, by, digits, out).await;
    }
    let person = named(&hub, asked.person.as_deref().unwrap_or_default()).await?;
    let before: Vec<_> = hub.store.enrolments().await?.into_iter().map(|one| one.log).collect();
    let code = chance::bytes()?;
    let made_for = Offer { label: asked.label.clone(), person: person.id.0, areas: asked.areas.clone() };
    offer(&hub, &code, &made_for).await?;
    let address = place.folder.settings()?.address;
    let invitation = Invitation { address, organisation: hub.organisation().log(), code };
    show(asked, &invitation.text(), out)?;
    if asked.no_wait {
        writeln!(
            out,
            "When the phone shows six digits, confirm it with `headmark-hub enrol --confirm DIGITS`."
        )?;
        return Ok(ExitCode::SUCCESS);
    }
    writeln!(out, "Waiting for the phone, {} minutes at most ...", CODE_SECONDS / 60)?;
    out.flush()?;
    let Some(waits) = wait(&hub, &before).await? else {
        writeln!(out, "No phone came. The code is no longer good; make a new one.")?;
        return Ok(ExitCode::FAILURE);
    };
    decide(&hub, by, &waits, out).await
}

fn show(asked: &Enrol, invitation: &str, out: &mut (dyn Write + Send)) -> Result<()> {
    let picture = Picture::of(invitation)?;
    if let Some(path) = &asked.png {
        std::fs::write(path, picture.png()?)
            .with_context(|| format!("{} could not be written.", path.display()))?;
    }
    if let Some(path) = &asked.svg {
        std::fs::write(path, picture.svg())
            .with_context(|| format!("{} could not be written.", path.display()))?;
    }
    write!(out, "{}", picture.letters())?;
    writeln!(
        out,
        "Scan this with the phone. It is good for one phone, and for {} minutes:",
        CODE_SECONDS / 60
    )?;
    writeln!(out, "{invitation}")?;
    Ok(())
}

async fn wait(hub: &Hub<Store>, before: &[record::LogId]) -> Result<Option<Enrolment>> {
    let until = hub.clock.now().after_seconds(CODE_SECONDS);
    while hub.clock.now() < until {
        let waiting = hub.store.enrolments().await?;
        if let Some(new) = waiting.into_iter().find(|one| !before.contains(&one.log)) {
            return Ok(Some(new));
        }
        tokio::time::sleep(LOOK).await;
    }
    Ok(None)
}

async fn decide(
    hub: &Hub<Store>,
    by: Option<PersonId>,
    waits: &Enrolment,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    writeln!(
        out,
        "A phone asks, and shows {}. Are these the digits on the phone in your hand? y or n:",
        waits.digits
    )?;
    out.flush()?;
    let mut line = String::new();
    std::io::stdin().lock().read_line(&mut line).context("There is no terminal to answer at.")?;
    if line.trim() != "y" {
        hub.store.drop_enrolment(waits.log).await?;
        writeln!(
            out,
            "Sent away. If the digits differed, somebody else used the code: make a new one where nobody sees it."
        )?;
        return Ok(ExitCode::FAILURE);
    }
    confirmed(hub, by, waits, out).await
}

async fn confirm_waiting(
    hub: &Hub<Store>,
    by: Option<PersonId>,
    digits: &str,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let waiting = hub.store.enrolments().await?;
    let same: Vec<_> = waiting.iter().filter(|one| one.digits == digits).collect();
    ensure!(same.len() < 2, "Two phones that wait show these digits. Send both away and make new codes.");
    let waits = same.first().context(
        "No phone that waits shows these digits. Compare them again; `headmark-hub status` lists who waits.",
    )?;
    confirmed(hub, by, waits, out).await
}

async fn confirmed(
    hub: &Hub<Store>,
    by: Option<PersonId>,
    waits: &Enrolment,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    confirm(hub, by, waits.log, &waits.digits).await?;
    writeln!(out, "Enrolled. The phone fetches its certificate by itself, and may send.")?;
    Ok(ExitCode::SUCCESS)
}
