//! What a technician does on the screen.

use std::path::Path;

use anyhow::{Context, Result, ensure};
use domain::visit::{PieceKind, Spot, Step, Timing};
use kit::{Act, Story};
use serde_json::to_value;

use crate::Screen;

impl Screen {
    /// Says who works with this phone, on the screen a new phone opens with.
    ///
    /// # Errors
    ///
    /// When the screen is another.
    pub async fn signs_on(&self, name: &str) -> Result<()> {
        self.sees("name").await?;
        self.keyboard("technician", name).await?;
        self.press("technician-keep").await?;
        self.sees("home-screen").await
    }

    /// Loads a register file and returns what the app says came of it.
    ///
    /// # Errors
    ///
    /// When no report comes.
    pub async fn loads_register(&self, file: &Path) -> Result<String> {
        self.sees("home-screen").await?;
        self.send_file("register-file", file).await?;
        self.sees("register-screen").await?;
        self.reads("register-outcome").await
    }

    /// Photographs a label, from the first screen, and comes to the instrument's card.
    ///
    /// # Errors
    ///
    /// When the photo leads to no instrument.
    pub async fn photographs(&self, photo: &Path) -> Result<()> {
        self.press("begin").await?;
        self.send_file("find-photo", photo).await?;
        self.sees("confirm").await
    }

    /// Finds an instrument by typing its tag, from the first screen, and comes to its card.
    ///
    /// # Errors
    ///
    /// When it is not among the hits.
    pub async fn types_tag(&self, typed: &str, tag: &str) -> Result<()> {
        self.press("begin").await?;
        self.keyboard("find-text", typed).await?;
        self.press(&format!("hit-{tag}")).await?;
        self.sees("confirm").await
    }

    /// Begins a visit from the instrument's card.
    ///
    /// # Errors
    ///
    /// When it cannot be begun.
    pub async fn begins_visit(&self) -> Result<()> {
        self.press("visit-begin").await?;
        self.is_at(Step::Find).await
    }

    /// Waits until a step is on the screen.
    ///
    /// # Errors
    ///
    /// When it does not come.
    pub async fn is_at(&self, step: Step) -> Result<()> {
        self.sees_attribute("step-title", "data-step", &word(step)?).await
    }

    /// Does one thing and waits until the app says that it is saved.
    ///
    /// # Errors
    ///
    /// When it cannot be done or is not saved.
    pub async fn does(&self, act: &Act) -> Result<()> {
        match act {
            Act::Chooses(spot, choice) => self.choose(&name(*spot)?, choice.word()).await?,
            Act::Pads(spot, text) => self.pad(&name(*spot)?, text).await?,
            Act::Writes(spot, text) => self.keyboard(&format!("field-{}", name(*spot)?), text).await?,
            Act::Adds(kind, timing) => self.press(&format!("add-{}", offer(*kind, *timing)?)).await?,
        }
        self.is_saved().await
    }

    /// Tells whether the screen shows an answer as it was given.
    ///
    /// # Errors
    ///
    /// When its field is not on the screen.
    pub async fn shows_done(&self, act: &Act) -> Result<bool> {
        match act {
            Act::Chooses(spot, choice) => self.is_chosen(&name(*spot)?, choice.word()).await,
            Act::Pads(spot, text) | Act::Writes(spot, text) => {
                Ok(self.value(&name(*spot)?).await?.trim() == text.trim())
            }
            Act::Adds(..) => Ok(!self.names("piece-").await?.is_empty()),
        }
    }

    /// Waits until nothing typed is on its way any more.
    ///
    /// # Errors
    ///
    /// When something could not be saved.
    pub async fn is_saved(&self) -> Result<()> {
        self.sees_attribute("saved", "data-saved", "yes").await
    }

    /// Does all that a story does in a step, which is on the screen.
    ///
    /// # Errors
    ///
    /// When one of its acts cannot be done.
    pub async fn does_step(&self, story: &Story, step: Step) -> Result<()> {
        self.is_at(step).await?;
        for act in story.acts(step) {
            self.does(act).await.with_context(|| format!("{act:?} at {step:?}"))?;
        }
        Ok(())
    }

    /// Goes on to the next step by the main button.
    ///
    /// # Errors
    ///
    /// When something is still missing: the error tells what.
    pub async fn goes_on(&self, from: Step) -> Result<()> {
        let missing = self.attribute("next", "data-missing").await?;
        if missing.is_some() {
            self.press("next").await?;
            let what = self.reads("missing").await?;
            anyhow::bail!("{from:?} cannot be left: {what}");
        }
        self.press("next").await?;
        let next = from.next().context("nothing comes after the last step")?;
        self.is_at(next).await
    }

    /// Walks a story from the step on the screen to another, which is then on the screen with nothing done in it.
    ///
    /// # Errors
    ///
    /// When a step cannot be done or left.
    pub async fn walks(&self, story: &Story, from: Step, to: Step) -> Result<()> {
        let mut step = from;
        while step != to {
            self.does_step(story, step).await?;
            self.goes_on(step).await?;
            step = step.next().context("the story does not lead there")?;
        }
        Ok(())
    }

    /// Signs, at the last step, and comes to the record.
    ///
    /// # Errors
    ///
    /// When the app refuses.
    pub async fn signs(&self) -> Result<()> {
        ensure!(self.attribute("next", "data-missing").await?.is_none(), "something is missing still");
        self.press("next").await?;
        self.sees("record").await
    }

    /// Makes the phone belong to a hub, from the first screen and by the text of a code, up to the six digits, which it
    /// returns.
    ///
    /// # Errors
    ///
    /// When the hub is not met, or is not the code's.
    pub async fn pastes_invitation(&self, invitation: &str) -> Result<String> {
        self.press("send-open").await?;
        self.press("enrol-open").await?;
        self.keyboard("enrol-text", invitation).await?;
        self.press("enrol-use").await?;
        self.digits().await
    }

    /// The same by holding the phone's camera to the code on the hub's screen.
    ///
    /// # Errors
    ///
    /// When the code is not read, or as [`Screen::pastes_invitation`].
    pub async fn scans_invitation(&self) -> Result<String> {
        self.press("send-open").await?;
        self.press("enrol-open").await?;
        self.digits().await
    }

    async fn digits(&self) -> Result<String> {
        self.sees_attribute("enrol-says", "data-stage", "waiting").await?;
        self.attribute("enrol-digits", "data-digits").await?.context("there are no digits to compare")
    }

    /// Exports the record on the screen and returns where the app says it is.
    ///
    /// # Errors
    ///
    /// When it is not exported.
    pub async fn exports(&self) -> Result<String> {
        self.press("export").await?;
        self.reads("exported").await
    }
}

/// The pages' stem for a spot.
fn name(spot: Spot) -> Result<String> {
    Ok(format!("{}-{}-{}", word(spot.key)?, spot.piece.0, spot.row))
}

fn offer(kind: PieceKind, timing: Timing) -> Result<String> {
    Ok(format!("{}-{}", word(kind)?, word(timing)?))
}

/// The word that the pages have for one of the core's.
fn word(value: impl serde::Serialize) -> Result<String> {
    Ok(to_value(value)?.as_str().context("not a word")?.to_owned())
}
