//! A signed record goes to the utility's hub, and the phone says where it is: by itself, when the hub was not there at
//! first, with a photo, and by way of another phone.

use std::path::Path;

use anyhow::{Result, ensure};
use domain::visit::Step;
use journeys::{App, Hub, Screen, journey, prepared};
use kit::{Core, Phone, Story};

const TECHNICIAN: &str = "Asha Verma";
const RECEIVED: &str = "The record is at the hub";

/// A phone whose visit needs but the last step.
fn about_to_sign(story: &Story) -> Result<Phone> {
    let phone = prepared()?;
    Core::open(&phone)?.play(story, Step::Sign)?;
    Ok(phone)
}

/// Makes the phone belong to the hub: its code is pasted, and the digits are confirmed.
async fn enrols(screen: &Screen, hub: &Hub, label: &str) -> Result<()> {
    let digits = screen.pastes_invitation(&hub.invitation(TECHNICIAN, label)?).await?;
    is_confirmed(screen, hub, &digits).await
}

/// At the hub the digits that the phone shows are confirmed.
async fn is_confirmed(screen: &Screen, hub: &Hub, digits: &str) -> Result<()> {
    ensure!(digits.len() == 6 && digits.chars().all(|c| c.is_ascii_digit()), "{digits:?} are not six digits");
    // Somebody else's digits confirm nobody.
    let others: String = digits.chars().map(|c| if c == '9' { '0' } else { '9' }).collect();
    ensure!(hub.confirm(&others).is_err(), "the hub confirmed digits that no phone shows");
    screen.sees_attribute("enrol-says", "data-stage", "waiting").await?;
    hub.confirm(digits)?;
    screen.sees_attribute("enrol-says", "data-stage", "enrolled").await?;
    screen.press("enrol-done").await?;
    screen.sees("send").await?;
    screen.press("home").await?;
    screen.sees("home-screen").await
}

/// Signs the visit that stands at its last step.
async fn signs(screen: &Screen, story: &Story) -> Result<()> {
    screen.press("continue").await?;
    screen.does_step(story, Step::Sign).await?;
    screen.signs().await
}

/// Holds the hub to having so many visits, and this phone's log up to a place.
fn hub_has(hub: &Hub, visits: u32, phone: &str, place: u32) -> Result<()> {
    let status = hub.status()?;
    let visits = format!("{visits} visits");
    let phone = format!("\"{phone}\" of {TECHNICIAN}, up to place {place}");
    ensure!(status.contains(&visits) && status.contains(&phone), "not {visits:?} and {phone:?}: {status}");
    Ok(())
}

#[tokio::test]
async fn by_itself() -> Result<()> {
    let story = kit::known_empty();
    journey("sent", about_to_sign(&story)?, async |app| {
        let hub = Hub::of_journey("sent", TECHNICIAN)?;
        let screen = app.screen()?;
        enrols(&screen, &hub, "first phone").await?;
        signs(&screen, &story).await?;
        screen.waits_for("record-where", "Received by the hub").await?;
        hub_has(&hub, 1, "first phone", 1)?;
        screen.press("home").await?;
        screen.waits_for("status", RECEIVED).await?;

        // It is known, not hoped: also after a restart, with the hub gone.
        drop(hub);
        app.restart().await?;
        app.screen()?.waits_for("status", RECEIVED).await.map(drop)
    })
    .await
}

#[tokio::test]
async fn enrolled_by_holding_the_phone_to_the_hubs_code() -> Result<()> {
    let story = kit::known_empty();
    let hub = Hub::of_journey("sent_scanned", TECHNICIAN)?;
    let mut phone = about_to_sign(&story)?;
    let frames = phone.data().join("frames");
    kit::record_picture(&frames, &hub.code(TECHNICIAN, "first phone")?)?;
    phone.sees(&frames);
    journey("sent_scanned", phone, async |app| {
        let screen = app.screen()?;
        let digits = screen.scans_invitation().await?;
        is_confirmed(&screen, &hub, &digits).await?;
        signs(&screen, &story).await?;
        screen.waits_for("record-where", "Received by the hub").await?;
        hub_has(&hub, 1, "first phone", 1)
    })
    .await
}

#[tokio::test]
async fn when_the_hub_is_there_again() -> Result<()> {
    let story = kit::known_empty();
    journey("sent_later", about_to_sign(&story)?, async |app| {
        let mut hub = Hub::of_journey("sent_later", TECHNICIAN)?;
        let screen = app.screen()?;
        enrols(&screen, &hub, "first phone").await?;
        hub.go_silent()?;
        signs(&screen, &story).await?;
        screen.waits_for("record-where", "On this phone").await?;
        screen.press("home").await?;
        screen.waits_for("status", "1 record: 1 only here").await?;
        screen.sees_attribute("status", "data-waits", "true").await?;
        screen.press("send-open").await?;
        // What went wrong is told, and the record that waits is listed.
        screen.sees_beginning("message-").await?;
        ensure!(screen.reads("waiting-0").await?.contains(&story.tag), "the visit does not wait");

        hub.answer()?;
        screen.press("send-main").await?;
        screen.waits_for("send-status", RECEIVED).await?;
        hub_has(&hub, 1, "first phone", 1)?;
        screen.no_longer_sees("waiting-0").await
    })
    .await
}

/// Adds a photo at Evidence, and goes on by what the story does there.
async fn photographs_and_walks(screen: &Screen, story: &Story, photo: &Path) -> Result<()> {
    screen.press("continue").await?;
    screen.is_at(Step::Evidence).await?;
    screen.send_file("photo-choose", photo).await?;
    screen.waits_for("photos-said", "1 photo").await?;
    screen.walks(story, Step::Evidence, Step::Sign).await?;
    screen.does_step(story, Step::Sign).await?;
    screen.signs().await
}

#[tokio::test]
async fn with_a_photo_byte_for_byte() -> Result<()> {
    let story = kit::known_empty();
    let phone = prepared()?;
    Core::open(&phone)?.play(&story, Step::Evidence)?;
    journey("sent_photo", phone, async |app| {
        let hub = Hub::of_journey("sent_photo", TECHNICIAN)?;
        let screen = app.screen()?;
        enrols(&screen, &hub, "first phone").await?;
        // A desktop's webview does not say what kind of connection it has.
        screen.press("send-open").await?;
        screen.press("send-metered").await?;
        screen.press("home").await?;
        let photo = kit::photo("label-lt-3107.jpg");
        photographs_and_walks(&screen, &story, &photo).await?;
        screen.waits_for("record-where", "Received by the hub with 1 photo").await?;
        let taken = std::fs::read(&photo)?;
        ensure!(hub.photos()? == [taken], "the hub's photos are not the one that was taken");
        Ok(())
    })
    .await
}

/// The first phone's network is paused, so only the file can have carried its record.
#[tokio::test]
async fn by_a_file_through_another_phone() -> Result<()> {
    let story = kit::known_empty();
    let hub = Hub::of_journey("sent_by_file", TECHNICIAN)?;
    journey("sent_by_file_first", about_to_sign(&story)?, async |first| {
        let screen = first.screen()?;
        enrols(&screen, &hub, "first phone").await?;
        screen.press("send-open").await?;
        screen.press("send-pause").await?;
        screen.press("home").await?;
        signs(&screen, &story).await?;
        screen.press("home").await?;
        screen.press("send-open").await?;
        screen.press("bundle-make").await?;
        let file = screen.reads("bundle-made").await?;
        hub_has(&hub, 0, "first phone", 0)?;

        journey("sent_by_file_second", prepared()?, async |second| {
            carries(second, &hub, Path::new(&file)).await
        })
        .await?;
        hub_has(&hub, 1, "first phone", 1)?;

        // The first phone hears of it from the hub, and sends nothing twice.
        ensure!(screen.reads("send-status").await? == "1 record: 1 only here");
        screen.press("send-main").await?;
        screen.waits_for("send-status", RECEIVED).await?;
        hub_has(&hub, 1, "first phone", 1)
    })
    .await
}

/// Takes a file in on a phone of its own, and waits until what was in it has gone to the hub.
async fn carries(app: &App, hub: &Hub, file: &Path) -> Result<()> {
    let screen = app.screen()?;
    enrols(&screen, hub, "second phone").await?;
    screen.press("send-open").await?;
    screen.send_file("bundle-take", file).await?;
    screen.waits_for("bundle-taken", "1 record was new").await?;
    for _ in 0..100 {
        if hub.status()?.contains("1 visits") {
            return Ok(());
        }
        tokio::time::sleep(std::time::Duration::from_millis(200)).await;
    }
    hub_has(hub, 1, "first phone", 1)
}
