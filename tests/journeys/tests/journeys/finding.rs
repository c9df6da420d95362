//! Finding an instrument whose label says nothing yet, or that has none: a strange code linked to it, what is near, and
//! what is to be done.

use anyhow::{Result, ensure};
use journeys::{Screen, journey, prepared};

const COLD_ASH: &str = "LT-3107";
const TARN_LANE: &str = "LT-4012";

async fn photographs_a_strange_code(screen: &Screen) -> Result<()> {
    screen.press("begin").await?;
    screen.send_file("find-photo", &kit::photo("unknown-code.jpg")).await
}

/// Its plate shows, before anything is begun, what was picked.
async fn is_confirmed(screen: &Screen, tag: &str) -> Result<()> {
    screen.sees("confirm").await?;
    screen.waits_for("confirm-tag", tag).await?;
    ensure!(!screen.reads("plate").await?.is_empty(), "{tag} has no plate to compare");
    Ok(())
}

#[tokio::test]
async fn a_strange_code_is_linked_to_its_instrument_and_leads_there_from_then_on() -> Result<()> {
    journey("linking", prepared()?, async |app| {
        let screen = app.screen()?;
        photographs_a_strange_code(&screen).await?;
        screen.sees("message-code.unknown").await?;
        let code = screen.reads("code").await?;
        screen.press("link-open").await?;
        screen.sees("link").await?;
        screen.keyboard("find-text", "lt 3017").await?;
        screen.press(&format!("hit-{COLD_ASH}")).await?;
        screen.sees("link-to").await?;
        ensure!(screen.reads("link-tag").await? == COLD_ASH);
        ensure!(screen.reads("plate").await?.contains("MW-30-20455"), "no serial number to compare");
        let linked = screen.reads("code").await?;
        ensure!(code.contains(&linked) && linked.len() > 5, "{linked:?} is to be linked, {code:?} was read");
        screen.press("link-agree").await?;
        is_confirmed(&screen, COLD_ASH).await?;
        screen.sees("message-link.proposed").await?;

        app.restart().await?;
        let screen = app.screen()?;
        photographs_a_strange_code(&screen).await?;
        is_confirmed(&screen, COLD_ASH).await?;
        screen.sees("message-link.pending").await?;
        ensure!(screen.attribute("code-0", "data-pending").await?.as_deref() == Some("false"));
        ensure!(screen.attribute("code-1", "data-pending").await?.as_deref() == Some("true"));
        ensure!(screen.reads("code-1").await?.contains(&linked));
        screen.begins_visit().await
    })
    .await
}

/// Cold Ash lies at 51.4071 degrees north in the register. 0.0018 degrees south of it, at 111.2 km a degree, is 200 m.
#[tokio::test]
async fn what_is_near_comes_first_and_leads_to_its_plate() -> Result<()> {
    journey("near", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.stands_at(51.4053, -104.5206, 12.0).await?;
        screen.press("list-near").await?;
        let told = screen.reads("message-near.position").await?;
        ensure!(told.contains("12 m"), "it says only {told:?}");
        let nearest = screen.reads("near-0").await?;
        ensure!(nearest.contains("Cold Ash, 200 m away"), "the nearest is {nearest:?}");
        ensure!(screen.names("near-").await?.len() > 1, "only one site is listed");
        screen.press(&format!("hit-{COLD_ASH}")).await?;
        is_confirmed(&screen, COLD_ASH).await
    })
    .await
}

#[tokio::test]
async fn the_work_list_says_why_and_a_visit_begun_from_it_stands_among_the_recent() -> Result<()> {
    journey("work_list", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.press("list-recent").await?;
        screen.sees("no-hits").await?;
        screen.press("list-work").await?;
        screen.waits_for("list", "Reads low after the pump was changed").await?;
        screen.press(&format!("hit-{TARN_LANE}")).await?;
        is_confirmed(&screen, TARN_LANE).await?;
        screen.begins_visit().await?;

        app.restart().await?;
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.press("list-recent").await?;
        let recent = screen.waits_for("list", "Open since").await?;
        ensure!(recent.contains(TARN_LANE), "{recent:?}");
        Ok(())
    })
    .await
}
