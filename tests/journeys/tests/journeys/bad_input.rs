//! Bad input at each step: each gets a message that says what to do, and nothing typed is lost.

use std::fs;
use std::path::PathBuf;

use anyhow::{Result, ensure};
use domain::visit::Step;
use journeys::{App, Screen, journey, prepared};
use kit::{Core, Phone, Story};

fn standing_at(story: &Story, step: Step) -> Result<Phone> {
    let phone = prepared()?;
    Core::open(&phone)?.play(story, step)?;
    Ok(phone)
}

/// A file beside the phone's data.
fn file(phone: &Phone, name: &str, bytes: &[u8]) -> Result<PathBuf> {
    let path = phone.data().join(name);
    fs::write(&path, bytes)?;
    Ok(path)
}

/// Waits for a message by its stable word, and holds it to saying what happened and what to do.
async fn is_told(screen: &Screen, code: &str) -> Result<()> {
    let told = screen.reads(&format!("message-{code}")).await?;
    ensure!(told.split_whitespace().count() >= 5, "{code} says only {told:?}");
    Ok(())
}

/// Opens the one visit that is open on the phone.
async fn go_on(app: &App, step: Step) -> Result<Screen> {
    let screen = app.screen()?;
    screen.press("continue").await?;
    screen.is_at(step).await?;
    Ok(screen)
}

/// Types into a field on the keyboard, and waits until it is saved.
async fn types(screen: &Screen, field: &str, text: &str) -> Result<()> {
    screen.keyboard(&format!("field-{field}"), text).await?;
    screen.is_saved().await
}

#[tokio::test]
async fn a_photo_with_no_code_one_of_a_strange_code_and_a_file_that_is_no_photo() -> Result<()> {
    let phone = prepared()?;
    let text = file(&phone, "note.png", b"not a picture at all, only words")?;
    journey("no_code", phone, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.send_file("find-photo", &kit::photo("no-code.jpg")).await?;
        is_told(&screen, "code.not_read").await?;
        screen.send_file("find-photo", &kit::photo("unknown-code.jpg")).await?;
        is_told(&screen, "code.unknown").await?;
        ensure!(!screen.reads("code").await?.is_empty(), "the code that was read is not shown");
        screen.send_file("find-photo", &text).await?;
        is_told(&screen, "photo.not_a_photo").await?;
        // The way on is still there.
        screen.keyboard("find-text", "3107").await?;
        screen.sees("hit-LT-3107").await
    })
    .await
}

#[tokio::test]
async fn a_tag_that_nobody_has() -> Result<()> {
    journey("no_tag", prepared()?, async |app| {
        let screen = app.screen()?;
        screen.press("begin").await?;
        screen.keyboard("find-text", "ZZ-9999").await?;
        screen.sees("no-hits").await?;
        screen.keyboard("find-text", "2041").await?;
        screen.sees("hit-LT-2041").await
    })
    .await
}

#[tokio::test]
async fn a_register_that_is_none_and_one_with_bad_rows() -> Result<()> {
    let phone = prepared()?;
    let none = file(&phone, "none.json", b"{\"format\": \"something else\"}")?;
    let rows = String::from_utf8(kit::register().to_vec())?.replace("\"31 ft 4 in\"", "\"thirty-one\"");
    let rows = file(&phone, "rows.json", rows.as_bytes())?;
    journey("bad_register", phone, async |app| {
        let screen = app.screen()?;
        screen.loads_register(&none).await?;
        screen.sees("row-problem-0").await?;
        screen.press("home").await?;
        // The register that was there is there still.
        screen.waits_for("register", "Marrowby").await?;
        screen.loads_register(&rows).await?;
        let problem = screen.reads("row-problem-0").await?;
        ensure!(
            problem.contains("LT-2041") && problem.contains("riser"),
            "the row is not named: {problem:?}"
        );
        Ok(())
    })
    .await
}

#[tokio::test]
async fn find_a_serial_that_is_not_the_registers() -> Result<()> {
    let story = kit::known_empty();
    journey("bad_find", standing_at(&story, Step::Find)?, async |app| {
        let screen = go_on(app, Step::Find).await?;
        types(&screen, "serial_read-0-0", "MW-99-00001").await?;
        is_told(&screen, "plate.serial_differs").await?;
        app.restart().await?;
        let screen = go_on(app, Step::Find).await?;
        ensure!(screen.value("serial_read-0-0").await? == "MW-99-00001");
        Ok(())
    })
    .await
}

#[tokio::test]
async fn make_safe_minutes_that_are_no_number() -> Result<()> {
    let story = kit::known_empty();
    journey("bad_make_safe", standing_at(&story, Step::MakeSafe)?, async |app| {
        let screen = go_on(app, Step::MakeSafe).await?;
        screen.pad("inhibit_minutes-0-0", "9..0").await?;
        screen.is_saved().await?;
        screen.sees("problem-inhibit_minutes-0-0").await?;
        ensure!(screen.value("inhibit_minutes-0-0").await? == "9..0");
        // Without the safety list nothing goes on, and the app says what is missing.
        screen.press("next").await?;
        screen.sees("missing").await
    })
    .await
}

#[tokio::test]
async fn as_found_a_number_with_two_points_and_a_reading_beyond_the_sensor() -> Result<()> {
    let story = kit::dip();
    journey("bad_as_found", standing_at(&story, Step::AsFound)?, async |app| {
        let screen = go_on(app, Step::AsFound).await?;
        screen.pad("display-0-0", "12..3").await?;
        screen.is_saved().await?;
        screen.sees("problem-display-0-0").await?;
        ensure!(screen.value("display-0-0").await? == "12..3");
        Ok(())
    })
    .await
}

/// The sensor takes 30 psi, some 69 ft of water; with 31 ft taken out no display can say 90.
#[tokio::test]
async fn as_found_a_reading_beyond_the_sensor() -> Result<()> {
    let story = kit::dip();
    journey("beyond", standing_at(&story, Step::AsFound)?, async |app| {
        let screen = go_on(app, Step::AsFound).await?;
        screen.does_step(&story, Step::AsFound).await?;
        screen.pad("display-0-0", "90").await?;
        screen.is_saved().await?;
        is_told(&screen, "reading.beyond_limits").await?;
        ensure!(screen.value("display-0-0").await? == "90");
        Ok(())
    })
    .await
}

#[tokio::test]
async fn evidence_a_riser_below_zero_and_a_doubtful_comma() -> Result<()> {
    let story = kit::cleared_riser();
    journey("bad_evidence", standing_at(&story, Step::Evidence)?, async |app| {
        let screen = go_on(app, Step::Evidence).await?;
        screen.press("add-riser-before").await?;
        types(&screen, "riser_height-1-0", "-31 ft 4 in").await?;
        screen.sees("problem-riser_height-1-0").await?;
        screen.press("add-dip-before").await?;
        types(&screen, "dip-2-0", "4,357 m").await?;
        // Four metres or four thousand: asked, not guessed. The first of the readings offered is taken.
        screen.press("which-dip-2-0-0").await?;
        screen.is_saved().await?;
        screen.sees("echo-dip-2-0").await
    })
    .await
}

#[tokio::test]
async fn shift_without_any_evidence() -> Result<()> {
    let story = kit::dip();
    journey("bad_shift", standing_at(&story, Step::Evidence)?, async |app| {
        let screen = go_on(app, Step::Evidence).await?;
        screen.press("step-shift").await?;
        screen.is_at(Step::Shift).await?;
        // No number is made up, and the ways to one are offered.
        ensure!(!screen.shows("shift-to").await? || screen.reads("shift-to").await?.is_empty());
        screen.sees("way-0").await
    })
    .await
}

#[tokio::test]
async fn as_left_a_display_that_missed_the_mark() -> Result<()> {
    let story = kit::known_empty();
    journey("bad_as_left", standing_at(&story, Step::AsLeft)?, async |app| {
        let screen = go_on(app, Step::AsLeft).await?;
        screen.choose("trim_result-0-0", "trim_took").await?;
        screen.pad("display_left-0-0", "0.9").await?;
        screen.is_saved().await?;
        is_told(&screen, "trim.missed").await
    })
    .await
}

#[tokio::test]
async fn signing_with_the_loop_still_in_manual() -> Result<()> {
    let story = kit::known_empty();
    journey("bad_sign", standing_at(&story, Step::BackInService)?, async |app| {
        let screen = go_on(app, Step::BackInService).await?;
        screen.press("step-sign").await?;
        screen.is_at(Step::Sign).await?;
        screen.press("next").await?;
        let missing = screen.reads("missing").await?;
        ensure!(!missing.is_empty());
        ensure!(!screen.shows("record").await?, "it signed all the same");
        Ok(())
    })
    .await
}

#[tokio::test]
async fn the_storage_is_full() -> Result<()> {
    let story = kit::known_empty();
    let mut phone = prepared()?;
    let visit = Core::open(&phone)?.play(&story, Step::Sign)?;
    phone.fill(&visit)?;
    journey("full", phone, async |app| {
        let screen = go_on(app, Step::Sign).await?;
        // Typed on through the message that comes up meanwhile: its spaces press nothing, its letters go nowhere else.
        let words = "Hatch seal worn, told to the foreman, new one on order";
        screen.keyboard("field-note-0-0", words).await?;
        is_told(&screen, "store.full").await?;
        screen.sees("trouble").await?;
        ensure!(screen.value("note-0-0").await? == words);
        // It does not call saved what is not, neither while the message stands nor when it is put away.
        ensure!(screen.attribute("saved", "data-saved").await?.as_deref() == Some("no"));
        screen.press("trouble-close").await?;
        screen.no_longer_sees("trouble").await?;
        ensure!(screen.attribute("saved", "data-saved").await?.as_deref() == Some("no"));
        ensure!(screen.value("note-0-0").await? == words);

        // With room again, and the app opened anew, all that was saved is there and the visit can be signed.
        app.phone_mut().free();
        app.kill().await?;
        app.start().await?;
        let screen = go_on(app, Step::Sign).await?;
        screen.does_step(&story, Step::Sign).await?;
        screen.signs().await
    })
    .await
}
