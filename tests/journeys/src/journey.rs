//! Runs one journey, and leaves what is needed to understand a failure.

use std::fs;
use std::time::Duration;

use anyhow::{Context, Result};
use kit::{Core, Phone};
use tokio::time::timeout;

use crate::{App, place};

/// Returns a phone with a name and the invented utility's register on it.
///
/// # Errors
///
/// When there is no room for it, or what the core says.
pub fn prepared() -> Result<Phone> {
    let phone = Phone::new()?;
    Core::open(&phone)?.prepare("Asha Verma")?;
    Ok(phone)
}

/// How long a walk may take. The longest takes a quarter of it; one that waits for an answer that never comes is ended.
const WALK: Duration = Duration::from_secs(240);

/// How long an app that may answer no more is asked for its picture.
const LAST_LOOK: Duration = Duration::from_secs(20);

/// Opens the app on a phone, walks, and closes it. When the walk fails, a picture of the screen and its text
/// are left in `tests/out/journeys`, and the error tells so.
///
/// # Errors
///
/// The walk's own.
pub async fn journey<Walk>(name: &str, phone: Phone, walk: Walk) -> Result<()>
where
    Walk: AsyncFnOnce(&mut App) -> Result<()>,
{
    let mut app = App::open(phone, name).await?;
    let walked = match timeout(WALK, walk(&mut app)).await {
        Ok(walked) => walked,
        Err(_) => Err(app.unanswered(&format!("the walk took more than {} s", WALK.as_secs()))),
    };
    let Err(error) = walked else { return app.close().await };
    let left = match timeout(LAST_LOOK, leave_evidence(&app, name)).await {
        Ok(Ok(left)) => left,
        Ok(Err(error)) => format!("no picture could be taken: {error:#}"),
        Err(_) => "no picture could be taken: the app did not answer".to_owned(),
    };
    Err(error.context(format!("journey {name} failed ({left})")))
}

async fn leave_evidence(app: &App, name: &str) -> Result<String> {
    let screen = app.screen()?;
    let picture = place::pictures()?.join(format!("{name}.png"));
    screen.picture(&picture).await.context("the picture")?;
    fs::write(picture.with_extension("txt"), screen.words().await?)?;
    Ok(format!("see {}", picture.display()))
}
