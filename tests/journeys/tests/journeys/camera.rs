//! Finding an instrument by holding the phone to its label: recorded frames stand in for the camera.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use journeys::{journey, prepared};

#[tokio::test]
async fn the_phone_is_brought_to_a_label_and_the_instrument_is_there() -> Result<()> {
    let story = kit::dip();
    let mut phone = prepared()?;
    let frames = phone.data().join("frames");
    kit::record_label(&frames, &story.code)?;
    phone.sees(&frames);
    journey("camera", phone, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.sees("confirm").await?;
        ensure!(screen.reads("confirm-tag").await? == story.tag);
        screen.begins_visit().await
    })
    .await
}

#[tokio::test]
async fn after_four_seconds_without_a_label_the_other_ways_are_offered() -> Result<()> {
    let mut phone = prepared()?;
    let frames = phone.data().join("frames");
    kit::record_nothing(&frames)?;
    phone.sees(&frames);
    journey("camera_nothing", phone, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.sees("camera").await?;
        let begun = Instant::now();
        screen.sees("offers").await?;
        ensure!(begun.elapsed() > Duration::from_secs(3), "they were offered after {:?}", begun.elapsed());
        // Each of them leads on, while the camera still looks.
        screen.press("offer-type").await?;
        screen.keyboard("find-text", "3107").await?;
        screen.press("hit-LT-3107").await?;
        ensure!(screen.reads("confirm-tag").await? == "LT-3107");
        Ok(())
    })
    .await
}

#[tokio::test]
async fn a_camera_that_may_not_be_used_is_told_and_a_photo_does() -> Result<()> {
    let mut phone = prepared()?;
    phone.refuses_camera();
    journey("camera_refused", phone, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        let told = screen.reads("message-camera.refused").await?;
        ensure!(told.contains("type its tag"), "it says only {told:?}");
        screen.send_file("find-photo", &kit::photo("label-lt-3107.jpg")).await?;
        ensure!(screen.reads("confirm-tag").await? == "LT-3107");
        Ok(())
    })
    .await
}
