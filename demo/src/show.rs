//! The app for a person to try, beside a hub that its phone belongs to.

use std::env;
use std::path::{Path, absolute};
use std::process::Command;

use anyhow::{Context, Result, ensure};
use journeys::{App, Hub};
use kit::{Core, Phone};

use crate::{PHONE, TECHNICIAN, tell};

/// Starts the hub, makes the phone belong to it, opens the app and waits until it is closed. Then the hub ends, too.
pub(crate) fn show(folder: &Path, out: &Path) -> Result<()> {
    // The app shows where it puts exported records.
    let phone = Phone::at(&absolute(folder)?)?;
    let kept = out.join("hub");
    let is_new = !kept.exists();
    let hub = Hub::kept(&kept, TECHNICIAN)?;
    tell::line("hub", &format!("{}, its data in {}", hub.address(), kept.display()))?;
    if is_new || !belongs(&phone)? {
        enrol_unseen(folder, out)?;
    }
    tell::line("app", "open; what is signed goes to the hub. To end, close its window.")?;
    let app = Command::new(journeys::app()?).envs(phone.variables()).status()?;
    for line in hub.status()?.lines().filter(|line| line.contains("visit")) {
        tell::line("at the hub", line)?;
    }
    ensure!(app.success(), "the app ended with {app}; what it kept is in {}", folder.display());
    Ok(())
}

/// Tells whether the phone belongs to a hub.
fn belongs(phone: &Phone) -> Result<bool> {
    Ok(Core::open(phone)?.phone().way_to_hub()?.is_some())
}

/// Enrols the phone on the app's own screen, on a display that nobody sees.
fn enrol_unseen(folder: &Path, out: &Path) -> Result<()> {
    let mut unseen = Command::new("xvfb-run");
    unseen
        .args(["-a", "-s", "-screen 0 600x1000x24"])
        .arg(env::current_exe()?)
        .arg("enrol")
        .args([folder, out]);
    // A window would go to the person's own display otherwise.
    unseen.env_remove("WAYLAND_DISPLAY");
    let done = unseen.status().context("xvfb-run does not start")?;
    ensure!(done.success(), "the phone could not be enrolled");
    Ok(())
}

/// Makes the phone belong to the hub, which answers: its code is pasted, and the digits are confirmed.
pub(crate) async fn enrol(folder: &Path, out: &Path) -> Result<()> {
    let hub = Hub::at(&out.join("hub"))?;
    let mut app = App::open(Phone::at(folder)?, "demo").await?;
    let screen = app.screen()?;
    screen.sees("home-screen").await?;
    let digits = screen.pastes_invitation(&hub.invitation(TECHNICIAN, PHONE)?).await?;
    hub.confirm(&digits)?;
    screen.sees_attribute("enrol-says", "data-stage", "enrolled").await?;
    app.close().await?;
    tell::line("enrolled", &format!("the phone belongs to the hub; both showed {digits}"))
}
