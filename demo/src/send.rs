//! The phone comes to belong to the hub, and what was signed goes there.

use std::time::Duration;

use anyhow::{Context, Result, ensure};
use journeys::{Hub, Screen};

use crate::visit::Pictures;
use crate::{PHONE, TECHNICIAN, tell};

/// How often the screen is read again, and how many times.
const LOOK: (Duration, u32) = (Duration::from_millis(500), 120);

/// Enrols the phone from its first screen, and waits until the hub says that everything arrived.
pub(crate) async fn send(screen: &Screen, hub: &Hub, pictures: &mut Pictures) -> Result<()> {
    screen.press("send-open").await?;
    screen.sees("send").await?;
    pictures.take(screen, "waits").await?;
    screen.press("send-main").await?;
    screen.sees("enrol").await?;
    screen.keyboard("enrol-text", &hub.invitation(TECHNICIAN, PHONE)?).await?;
    screen.press("enrol-use").await?;
    screen.sees("enrol-digits").await?;
    pictures.take(screen, "six-digits").await?;
    let digits = screen.attribute("enrol-digits", "data-digits").await?.context("no digits")?;
    tell::line("digits", &digits)?;
    hub.confirm(&digits)?;
    screen.sees_attribute("enrol-says", "data-stage", "enrolled").await?;
    screen.press("enrol-done").await?;
    let arrived = arrived(screen).await?;
    tell::line("sent", &arrived)?;
    pictures.take(screen, "arrived").await?;
    for line in hub.status()?.lines().filter(|line| line.contains("visit")) {
        tell::line("at the hub", line)?;
    }
    Ok(())
}

/// Reads the line until it says that all is at the hub.
async fn arrived(screen: &Screen) -> Result<String> {
    let (pause, times) = LOOK;
    let mut line = String::new();
    for _ in 0..times {
        line = screen.reads("send-status").await?;
        if line.ends_with("at the hub") {
            return Ok(line);
        }
        tokio::time::sleep(pause).await;
    }
    ensure!(line.ends_with("at the hub"), "it did not arrive: {line}");
    Ok(line)
}
