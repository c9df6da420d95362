//! Runs one journey, and leaves what is needed to understand a failure.

use std::fs;

use anyhow::{Context, Result};
use kit::Phone;

use crate::{App, place};

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
    let walked = walk(&mut app).await;
    if let Err(error) = walked {
        let left = leave_evidence(&app, name).await;
        let left = left.unwrap_or_else(|error| format!("no picture could be taken: {error:#}"));
        return Err(error.context(format!("journey {name} failed ({left})")));
    }
    app.close().await
}

async fn leave_evidence(app: &App, name: &str) -> Result<String> {
    let screen = app.screen()?;
    let picture = place::pictures()?.join(format!("{name}.png"));
    screen.picture(&picture).await.context("the picture")?;
    fs::write(picture.with_extension("txt"), screen.words().await?)?;
    Ok(format!("see {}", picture.display()))
}
