//! What is on the screen, by the names that the pages give their parts for tests.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, anyhow, bail};
use fantoccini::elements::Element;
use fantoccini::{Client, Locator};
use serde_json::json;

use crate::keys::presses;

/// How long something may take to come onto the screen. A photo is decoded within it, on a busy machine.
const PATIENCE: Duration = Duration::from_secs(20);

/// The tabulator, as the driver's protocol has it (W3C WebDriver, keyboard actions).
const TAB: char = '\u{e004}';

/// How often the screen is looked at.
const GLANCE: Duration = Duration::from_millis(40);

/// What is on the app's screen.
#[derive(Debug, Clone)]
pub struct Screen {
    client: Client,
}

impl Screen {
    pub(crate) fn new(client: Client) -> Screen {
        Screen { client }
    }

    /// Waits for a part and returns it.
    async fn part(&self, name: &str) -> Result<Element> {
        let start = Instant::now();
        loop {
            match self.client.find(Locator::Css(&by_name(name))).await {
                Ok(part) => return Ok(part),
                Err(error) if start.elapsed() > PATIENCE => {
                    return Err(anyhow!(error).context(format!("`{name}` is not on the screen")));
                }
                Err(_) => tokio::time::sleep(GLANCE).await,
            }
        }
    }

    /// Waits until a part is on the screen.
    ///
    /// # Errors
    ///
    /// When it does not come.
    pub async fn sees(&self, name: &str) -> Result<()> {
        self.part(name).await.map(drop)
    }

    /// Waits until a part whose name begins so is on the screen.
    ///
    /// # Errors
    ///
    /// When none comes.
    pub async fn sees_beginning(&self, stem: &str) -> Result<()> {
        let start = Instant::now();
        while self.names(stem).await?.is_empty() {
            if start.elapsed() > PATIENCE {
                bail!("nothing that begins with `{stem}` is on the screen");
            }
            tokio::time::sleep(GLANCE).await;
        }
        Ok(())
    }

    /// Tells whether a part is on the screen now.
    ///
    /// # Errors
    ///
    /// When the screen cannot be looked at.
    pub async fn shows(&self, name: &str) -> Result<bool> {
        Ok(!self.client.find_all(Locator::Css(&by_name(name))).await?.is_empty())
    }

    /// Waits until a part has left the screen.
    ///
    /// # Errors
    ///
    /// When it stays.
    pub async fn no_longer_sees(&self, name: &str) -> Result<()> {
        let start = Instant::now();
        while self.shows(name).await? {
            if start.elapsed() > PATIENCE {
                bail!("`{name}` does not leave the screen");
            }
            tokio::time::sleep(GLANCE).await;
        }
        Ok(())
    }

    /// Presses a part, once it is there and lets itself be pressed. It is brought to the middle first, where no
    /// bar covers it.
    ///
    /// # Errors
    ///
    /// When it cannot be pressed.
    pub async fn press(&self, name: &str) -> Result<()> {
        let start = Instant::now();
        loop {
            let pressed = self.press_now(name).await;
            if pressed.is_ok() || start.elapsed() > PATIENCE {
                return pressed.with_context(|| format!("`{name}` cannot be pressed"));
            }
            tokio::time::sleep(GLANCE).await;
        }
    }

    async fn press_now(&self, name: &str) -> Result<()> {
        let part = self.in_the_middle(name).await?;
        if !part.is_enabled().await? {
            bail!("it is disabled");
        }
        Ok(part.click().await?)
    }

    /// Brings a part to where nothing covers it.
    async fn in_the_middle(&self, name: &str) -> Result<Element> {
        let part = self.part(name).await?;
        let element = serde_json::to_value(&part)?;
        self.client.execute("arguments[0].scrollIntoView({ block: 'center' })", vec![element]).await?;
        self.settle().await?;
        Ok(part)
    }

    /// Types a number into a field on the app's own pad, in place of what stood there, and puts the pad away.
    ///
    /// # Errors
    ///
    /// When the pad has no key for a part of the text.
    pub async fn pad(&self, field: &str, text: &str) -> Result<()> {
        let keys = presses(text).map_err(|rest| anyhow!("no key of the pad puts in {rest:?}"))?;
        let name = format!("field-{field}");
        self.press(&name).await?;
        self.press("pad-clear").await?;
        for key in keys {
            self.press(&format!("pad-{key}")).await?;
        }
        self.press("pad-done").await
    }

    /// Types words into a field on the keyboard, in place of what stood there.
    ///
    /// # Errors
    ///
    /// When the field cannot be typed into.
    pub async fn keyboard(&self, field: &str, text: &str) -> Result<()> {
        let start = Instant::now();
        loop {
            let typed = self.keyboard_now(field, text).await;
            if typed.is_ok() || start.elapsed() > PATIENCE {
                return typed.with_context(|| format!("`{field}` cannot be typed into"));
            }
            tokio::time::sleep(GLANCE).await;
        }
    }

    async fn keyboard_now(&self, field: &str, text: &str) -> Result<()> {
        let part = self.in_the_middle(field).await?;
        part.clear().await?;
        Ok(part.send_keys(text).await?)
    }

    /// Types words into a field and leaves it by the keyboard's own key: what takes a text only then has it.
    ///
    /// # Errors
    ///
    /// As [`Screen::keyboard`].
    pub async fn enters(&self, field: &str, text: &str) -> Result<()> {
        self.keyboard(field, &format!("{text}{TAB}")).await
    }

    /// Chooses a line of a list that folds out.
    ///
    /// # Errors
    ///
    /// When it has no such line.
    pub async fn selects(&self, field: &str, value: &str) -> Result<()> {
        self.in_the_middle(field).await?.select_by_value(value).await?;
        Ok(())
    }

    /// Has the phone find itself at a place, in degrees, within some metres: on a desktop it has no way to.
    ///
    /// # Errors
    ///
    /// When the page no longer answers.
    pub async fn stands_at(&self, latitude: f64, longitude: f64, accuracy: f64) -> Result<()> {
        let script = "const [latitude, longitude, accuracy] = arguments;
            navigator.geolocation.getCurrentPosition = (told) => told({ coords: { latitude, longitude, accuracy } })";
        let place = [latitude, longitude, accuracy].map(|number| json!(number)).to_vec();
        self.client.execute(script, place).await?;
        Ok(())
    }

    /// Chooses one of a few.
    ///
    /// # Errors
    ///
    /// When it is not offered.
    pub async fn choose(&self, field: &str, value: &str) -> Result<()> {
        self.press(&format!("option-{field}-{value}")).await
    }

    /// Tells whether one of a few is the one chosen.
    ///
    /// # Errors
    ///
    /// When it is not offered.
    pub async fn is_chosen(&self, field: &str, value: &str) -> Result<bool> {
        let option = self.part(&format!("option-{field}-{value}")).await?;
        Ok(option.find(Locator::Css("input")).await?.is_selected().await?)
    }

    /// Gives a file to a file button.
    ///
    /// # Errors
    ///
    /// When there is no such button or file.
    pub async fn send_file(&self, name: &str, file: &Path) -> Result<()> {
        let file = file.canonicalize().with_context(|| format!("{} is not there", file.display()))?;
        let part = self.part(name).await?;
        Ok(part.send_keys(&file.to_string_lossy()).await?)
    }

    /// Reads the text of a part.
    ///
    /// # Errors
    ///
    /// When it is not there.
    pub async fn reads(&self, name: &str) -> Result<String> {
        Ok(self.part(name).await?.text().await?)
    }

    /// Reads what stands in a field.
    ///
    /// # Errors
    ///
    /// When it is not there.
    pub async fn value(&self, field: &str) -> Result<String> {
        let part = self.part(&format!("field-{field}")).await?;
        Ok(part.prop("value").await?.unwrap_or_default())
    }

    /// Reads an attribute of a part.
    ///
    /// # Errors
    ///
    /// When the part is not there.
    pub async fn attribute(&self, name: &str, attribute: &str) -> Result<Option<String>> {
        Ok(self.part(name).await?.attr(attribute).await?)
    }

    /// Waits until a part's text holds some words, and returns the whole of it.
    ///
    /// # Errors
    ///
    /// When it never does; the error tells what it said last.
    pub async fn waits_for(&self, name: &str, words: &str) -> Result<String> {
        let start = Instant::now();
        loop {
            let text = self.reads(name).await?;
            if text.contains(words) {
                return Ok(text);
            }
            if start.elapsed() > PATIENCE {
                bail!("`{name}` says {text:?}, never {words:?}");
            }
            tokio::time::sleep(GLANCE).await;
        }
    }

    /// Waits until an attribute of a part has a value.
    ///
    /// # Errors
    ///
    /// When it never has; the error tells what it had last.
    pub async fn sees_attribute(&self, name: &str, attribute: &str, value: &str) -> Result<()> {
        let start = Instant::now();
        loop {
            let found = self.attribute(name, attribute).await;
            if matches!(&found, Ok(Some(found)) if found == value) {
                return Ok(());
            }
            if start.elapsed() > PATIENCE {
                bail!("`{name}` has {found:?} for {attribute}, never {value:?}");
            }
            tokio::time::sleep(GLANCE).await;
        }
    }

    /// Returns the names of all parts on the screen that begin with a stem, in the order of the page.
    ///
    /// # Errors
    ///
    /// When the screen cannot be looked at.
    pub async fn names(&self, stem: &str) -> Result<Vec<String>> {
        let script = "return [...document.querySelectorAll('[data-testid]')]
            .map((part) => part.dataset.testid).filter((name) => name.startsWith(arguments[0]))";
        let found = self.client.execute(script, vec![json!(stem)]).await?;
        Ok(serde_json::from_value(found)?)
    }

    /// Returns all the text on the screen.
    ///
    /// # Errors
    ///
    /// When the screen cannot be looked at.
    pub async fn words(&self) -> Result<String> {
        let text = self.client.execute("return document.body.innerText", Vec::new()).await?;
        Ok(text.as_str().unwrap_or_default().to_owned())
    }

    /// Waits until what was last changed has been drawn: two frames, and a little more, because a picture taken
    /// right after the second can still miss it.
    ///
    /// # Errors
    ///
    /// When the page no longer answers.
    pub async fn settle(&self) -> Result<()> {
        let script = "const done = arguments[0];
            requestAnimationFrame(() => requestAnimationFrame(() => done(null)))";
        self.client.execute_async(script, Vec::new()).await?;
        Ok(())
    }

    /// Goes to a part of the page.
    ///
    /// # Errors
    ///
    /// When it is not there.
    pub async fn goes_to(&self, name: &str) -> Result<()> {
        self.in_the_middle(name).await.map(drop)
    }

    /// Goes to the top of the page.
    ///
    /// # Errors
    ///
    /// When the page no longer answers.
    pub async fn to_top(&self) -> Result<()> {
        self.client.execute("scrollTo(0, 0)", Vec::new()).await?;
        Ok(())
    }

    /// Takes a picture of the screen.
    ///
    /// # Errors
    ///
    /// When it cannot be taken or written.
    pub async fn picture(&self, file: &Path) -> Result<()> {
        self.settle().await?;
        tokio::time::sleep(Duration::from_millis(100)).await;
        fs::write(file, self.client.screenshot().await?)?;
        Ok(())
    }
}

fn by_name(name: &str) -> String {
    format!("[data-testid='{name}']")
}
