//! A full visit on the app's own screen for each reference: found, made safe, read, measured, trimmed, proved, put
//! back in service, signed, and found again after a restart.

use anyhow::{Context, Result, ensure};
use domain::visit::Step;
use journeys::{App, Screen, journey, prepared};
use kit::{Phone, Story};

/// Reads the number a text begins with, its sign set as typographers set it.
fn leading(text: &str) -> Result<f64> {
    let plain = text.replace('\u{2212}', "-");
    let number: String = plain.chars().take_while(|c| c.is_ascii_digit() || "+-.".contains(*c)).collect();
    number.parse().with_context(|| format!("{text:?} does not begin with a number"))
}

async fn shift_is_as_worked_out(screen: &Screen, story: &Story) -> Result<()> {
    for (name, expected) in ["shift-from", "shift-to", "shift-by"].into_iter().zip(story.shift) {
        let shown = screen.reads(name).await?;
        ensure!((leading(&shown)? - expected).abs() < 0.0051, "{name} shows {shown:?}, not {expected}");
    }
    ensure!(screen.reads("shift-sure").await?.contains("95 %"), "the shift does not say how sure it is");
    ensure!(screen.shows("sketch").await?, "the tower is not drawn");
    Ok(())
}

/// Walks a whole visit from its first step to the signed record, and finds it again.
async fn visit(app: &mut App, story: &Story) -> Result<()> {
    let screen = app.screen()?;
    screen.walks(story, Step::Find, Step::Shift).await?;
    shift_is_as_worked_out(&screen, story).await?;
    screen.walks(story, Step::Shift, Step::Sign).await?;
    screen.does_step(story, Step::Sign).await?;
    screen.signs().await?;
    ensure!(screen.reads("record-tag").await? == story.tag);
    let verdict = screen.attribute("verdict", "data-verdict").await?;
    ensure!(verdict.as_deref() == Some(story.verdict.as_str()), "the verdict is {verdict:?}");
    let exported = screen.exports().await?;
    ensure!(std::fs::metadata(&exported)?.len() > 500, "{exported} holds no record");

    app.restart().await?;
    let screen = app.screen()?;
    screen.press("record-0").await?;
    ensure!(screen.reads("record-tag").await? == story.tag);
    ensure!(screen.attribute("verdict", "data-verdict").await? == verdict);
    Ok(())
}

/// The whole way, from a phone that was never used.
#[tokio::test]
async fn by_a_dip_from_the_photo_of_a_label() -> Result<()> {
    let phone = Phone::new()?;
    let register = phone.data().join("register.json");
    std::fs::write(&register, kit::register())?;
    journey("dip", phone, async |app| {
        let story = kit::dip();
        let screen = app.screen()?;
        screen.signs_on("Asha Verma").await?;
        screen.loads_register(&register).await?;
        screen.press("home").await?;
        screen.photographs(&kit::photo("label-lt-2041.jpg")).await?;
        ensure!(screen.reads("confirm-tag").await? == story.tag);
        screen.begins_visit().await?;
        visit(app, &story).await
    })
    .await
}

#[tokio::test]
async fn by_a_known_empty_tank() -> Result<()> {
    journey("known_empty", prepared()?, async |app| {
        let story = kit::known_empty();
        app.screen()?.types_tag("3107", &story.tag).await?;
        app.screen()?.begins_visit().await?;
        visit(app, &story).await
    })
    .await
}

#[tokio::test]
async fn by_a_measured_riser_with_the_offset_cleared() -> Result<()> {
    journey("cleared_riser", prepared()?, async |app| {
        let story = kit::cleared_riser();
        // As typed in a hurry: lower case, no separator.
        app.screen()?.types_tag("lt2041", &story.tag).await?;
        app.screen()?.begins_visit().await?;
        visit(app, &story).await
    })
    .await
}

#[tokio::test]
async fn by_a_vented_check() -> Result<()> {
    journey("vented", prepared()?, async |app| {
        let story = kit::vented();
        app.screen()?.photographs(&kit::photo("label-lt-3107.jpg")).await?;
        app.screen()?.begins_visit().await?;
        visit(app, &story).await
    })
    .await
}

/// The new unit's limits and serial number are asked for, used, signed, and proposed to the register.
#[tokio::test]
async fn by_a_known_empty_tank_where_another_unit_is_fitted() -> Result<()> {
    journey("another_unit", prepared()?, async |app| {
        let story = Story::another_unit();
        app.screen()?.types_tag("3107", &story.tag).await?;
        ensure!(app.screen()?.reads("plate").await?.contains("MW-30-20455"));
        app.screen()?.begins_visit().await?;
        visit(app, &story).await?;

        app.restart().await?;
        let screen = app.screen()?;
        screen.types_tag("3107", &story.tag).await?;
        let plate = screen.reads("plate").await?;
        for words in ["MW-30-77001", "1 bar to 2.5 bar"] {
            ensure!(plate.contains(words), "the plate says {plate:?}, not {words:?}");
        }
        let pending = screen.reads("message-unit.pending").await?;
        ensure!(pending.contains("MW-30-77001") && pending.contains("MW-30-20455"), "{pending:?}");
        Ok(())
    })
    .await
}
