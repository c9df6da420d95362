//! Labels chosen, looked at and saved; and one of them, as it was saved, leads to its instrument.

use std::path::Path;

use anyhow::{Result, ensure};
use journeys::{Screen, journey, prepared};

/// Saves by a button, and returns where the app says the file is once it names one with the ending.
async fn saves(screen: &Screen, button: &str, ending: &str) -> Result<String> {
    screen.press(button).await?;
    screen.waits_for("labels-saved", ending).await
}

#[tokio::test]
async fn labels_of_a_site_are_looked_at_and_saved_as_sheets() -> Result<()> {
    journey("labels", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.press("labels-open").await?;
        screen.sees("labels").await?;
        screen.selects("labels-site", "Tarn Lane").await?;
        screen.waits_for("labels-lines", "2 labels on 1 sheet").await?;
        screen.sees("message-labels.not_in_register").await?;
        screen.sees("message-labels.actual_size").await?;
        screen.sees("labels-picture").await?;
        // Of a sheet of two by four, only the last place is free.
        screen.selects("labels-sheet", "a4-2x4").await?;
        screen.enters("labels-first", "8").await?;
        screen.waits_for("labels-lines", "2 labels on 2 sheets").await?;
        let saved = saves(&screen, "labels-pdf", ".pdf").await?;
        let file = std::fs::read(&saved)?;
        ensure!(file.starts_with(b"%PDF-") && file.len() > 1000, "{saved} holds no sheets");
        // A place that the sheet does not have is told, and nothing can be saved of it.
        screen.enters("labels-first", "9").await?;
        screen.no_longer_sees("labels-preview").await?;
        ensure!(screen.attribute("labels-pdf", "disabled").await?.is_some(), "it can still be saved");
        screen.sees_beginning("message-label").await
    })
    .await
}

#[tokio::test]
async fn one_label_is_saved_as_a_picture_that_leads_to_its_instrument() -> Result<()> {
    journey("label", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.press("labels-open").await?;
        screen.enters("labels-tag", "LT-3107").await?;
        screen.waits_for("labels-lines", "1 label on 1 sheet").await?;
        let drawing = saves(&screen, "labels-svg", ".svg").await?;
        ensure!(std::fs::read_to_string(&drawing)?.contains("<svg"), "{drawing} holds no drawing");
        let picture = saves(&screen, "labels-png", ".png").await?;
        screen.press("home").await?;
        screen.photographs(Path::new(&picture)).await?;
        ensure!(screen.reads("confirm-tag").await? == "LT-3107");
        Ok(())
    })
    .await
}
