//! The app's process ends at each step, with an answer just given: the visit opens where it stopped, nothing that
//! the screen called saved is lost, and it can be gone on with.

use anyhow::{Context, Result, ensure};
use domain::visit::Step;
use journeys::{App, Screen, journey};
use kit::{Act, Core, Phone, Story};
use rstest::rstest;

/// A phone on which a visit stands open at a step, with nothing done in it.
fn standing_at(story: &Story, step: Step) -> Result<Phone> {
    let phone = Phone::new()?;
    let core = Core::open(&phone)?;
    core.prepare("Asha Verma")?;
    core.play(story, step)?;
    Ok(phone)
}

/// The first thing done in the step whose answer can be read back off the screen.
fn answered(act: &Act) -> bool {
    !matches!(act, Act::Adds(..))
}

async fn shows_it_answered(screen: &Screen, act: &Act) -> Result<()> {
    ensure!(screen.shows_done(act).await?, "{act:?} is lost");
    Ok(())
}

async fn killed_at(app: &mut App, story: &Story, step: Step) -> Result<()> {
    let acts = story.acts(step);
    let upto = 1 + acts.iter().position(answered).context("nothing is answered in this step")?;
    let (before, after) = acts.split_at(upto);
    let last = before.last().context("nothing is done before the end")?;
    let screen = app.screen()?;
    screen.press("continue").await?;
    screen.is_at(step).await?;
    for act in before {
        screen.does(act).await?;
    }

    app.kill().await?;
    app.start().await?;

    let screen = app.screen()?;
    screen.press("continue").await?;
    screen.is_at(step).await?;
    shows_it_answered(&screen, last).await?;
    for act in after {
        screen.does(act).await?;
    }
    match step.next() {
        Some(_) => screen.goes_on(step).await,
        None => screen.signs().await,
    }
}

#[rstest]
#[case::find(Step::Find)]
#[case::make_safe(Step::MakeSafe)]
#[case::as_found(Step::AsFound)]
#[case::evidence(Step::Evidence)]
#[case::shift(Step::Shift)]
#[case::as_left(Step::AsLeft)]
#[case::back_in_service(Step::BackInService)]
#[case::sign(Step::Sign)]
#[tokio::test]
async fn killed(#[case] step: Step) -> Result<()> {
    let story = kit::known_empty();
    let phone = standing_at(&story, step)?;
    journey(&format!("killed_{step:?}"), phone, async |app| killed_at(app, &story, step).await).await
}

/// Left by the window's own button, in the middle of the evidence.
#[tokio::test]
async fn closed_and_opened() -> Result<()> {
    let story = kit::dip();
    let phone = standing_at(&story, Step::Evidence)?;
    journey("closed", phone, async |app| {
        let screen = app.screen()?;
        screen.press("continue").await?;
        let acts = story.acts(Step::Evidence);
        for act in &acts[..4] {
            screen.does(act).await?;
        }
        app.restart().await?;
        let screen = app.screen()?;
        screen.press("continue").await?;
        screen.is_at(Step::Evidence).await?;
        for act in &acts[1..4] {
            shows_it_answered(&screen, act).await?;
        }
        Ok(())
    })
    .await
}
