//! A whole visit at Sedge Hill, on the app's own screen: from the photographed label to the signed record and
//! back to it after a restart.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use domain::visit::Step;
use journeys::{App, Hub, Screen};
use kit::{Phone, Story};

use crate::{TECHNICIAN, send, tell};

/// Makes the visit; pictures and the exported record go to the folder, and the record to a hub.
pub(crate) async fn make(phone: Phone, photo: &Path, out: &Path) -> Result<()> {
    let story = kit::dip();
    let mut app = App::open(phone, "demo").await?;
    let mut pictures = Pictures { folder: out.to_owned(), taken: 0 };
    find(&app.screen()?, &story, photo, &mut pictures).await?;
    walk(&app.screen()?, &story, &mut pictures).await?;
    let exported = sign(&app.screen()?, &mut pictures).await?;
    let name = exported.file_name().context("the exported record has no name")?;
    fs::copy(&exported, out.join(name))?;
    tell::line("record", &out.join(name).display().to_string())?;

    app.restart().await?;
    let screen = app.screen()?;
    screen.sees("record-0").await?;
    pictures.take(&screen, "found-again").await?;
    let folder = out.join("hub");
    let hub = Hub::start(&folder, TECHNICIAN)?;
    tell::line("hub", &format!("{}, its data in {}", hub.address(), folder.display()))?;
    send::send(&screen, &hub, &mut pictures).await?;
    let there = out.join("at-the-hub.headmark");
    hub.export(&story.tag, &there)?;
    tell::line("its export", &there.display().to_string())?;
    app.close().await?;
    tell::line("pictures", &format!("{} in {}", pictures.taken, out.display()))
}

/// Numbered in the order of the visit.
pub(crate) struct Pictures {
    folder: PathBuf,
    taken: u32,
}

impl Pictures {
    /// The top of the screen.
    pub(crate) async fn take(&mut self, screen: &Screen, name: &str) -> Result<()> {
        screen.to_top().await?;
        self.keep(screen, name).await
    }

    /// What is in view.
    async fn keep(&mut self, screen: &Screen, name: &str) -> Result<()> {
        self.taken += 1;
        screen.picture(&self.folder.join(format!("{:02}-{name}.png", self.taken))).await
    }
}

async fn find(screen: &Screen, story: &Story, photo: &Path, pictures: &mut Pictures) -> Result<()> {
    screen.sees("home-screen").await?;
    pictures.take(screen, "home").await?;
    screen.photographs(photo).await?;
    let tag = screen.reads("confirm-tag").await?;
    tell::line("label", &format!("{} says {tag}", photo.display()))?;
    anyhow::ensure!(tag == story.tag, "the label of {} leads to {tag}", story.tag);
    pictures.take(screen, "instrument").await?;
    screen.begins_visit().await
}

async fn walk(screen: &Screen, story: &Story, pictures: &mut Pictures) -> Result<()> {
    for step in Step::ALL {
        screen.does_step(story, step).await?;
        pictures.take(screen, &picture_name(step)?).await?;
        if step == Step::Shift {
            screen.goes_to("sketch").await?;
            pictures.keep(screen, "shift-drawn").await?;
            for (what, name) in [
                ("from", "shift-from"),
                ("to", "shift-to"),
                ("shift", "shift-by"),
                ("how sure", "shift-sure"),
            ] {
                tell::line(what, &screen.reads(name).await?)?;
            }
        }
        if step != Step::Sign {
            screen.goes_on(step).await?;
        }
    }
    Ok(())
}

async fn sign(screen: &Screen, pictures: &mut Pictures) -> Result<PathBuf> {
    screen.signs().await?;
    tell::line("verdict", &screen.reads("verdict-short").await?)?;
    if screen.shows("verdict-detail").await? {
        tell::line("", &screen.reads("verdict-detail").await?)?;
    }
    let exported = PathBuf::from(screen.exports().await?);
    pictures.take(screen, "record").await?;
    Ok(exported)
}

fn picture_name(step: Step) -> Result<String> {
    let word = serde_json::to_value(step)?;
    Ok(word.as_str().context("a step without a word")?.replace('_', "-"))
}
