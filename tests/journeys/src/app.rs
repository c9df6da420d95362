//! The app on one phone: opened, closed, restarted, killed.

use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use anyhow::{Context, Error, Result, anyhow, bail};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use kit::Phone;
use serde_json::json;
use tokio::time::timeout;

use crate::driver::Driver;
use crate::{Screen, place};

/// A first connection can come before the driver listens.
const TRIES: u32 = 40;

/// How long the driver may take to open the app, or to close it. A busy machine takes a few seconds.
const PATIENCE: Duration = Duration::from_secs(60);

/// The app's window on a phone, 412 x 915 as the phone's screen.
#[derive(Debug)]
pub struct App {
    phone: Phone,
    open: Option<(Client, Driver)>,
    log: PathBuf,
}

impl App {
    /// Opens the app on a phone. The name is for the driver's log.
    ///
    /// # Errors
    ///
    /// Says what is missing on this machine, or what the driver answered.
    pub async fn open(phone: Phone, name: &str) -> Result<App> {
        let log = place::pictures()?.join(format!("{name}.driver.log"));
        let mut app = App { phone, open: None, log };
        app.start().await?;
        Ok(app)
    }

    /// Returns the phone it runs on.
    #[must_use]
    pub fn phone(&self) -> &Phone {
        &self.phone
    }

    /// Returns the phone, to change what it lets the app have. The app sees it when it is opened again.
    pub fn phone_mut(&mut self) -> &mut Phone {
        &mut self.phone
    }

    /// Returns what is on the screen.
    ///
    /// # Errors
    ///
    /// When the app is not open.
    pub fn screen(&self) -> Result<Screen> {
        let (client, _) = self.open.as_ref().context("the app is not open")?;
        Ok(Screen::new(client.clone()))
    }

    /// Opens it after it was closed or killed.
    ///
    /// # Errors
    ///
    /// As [`App::open`].
    pub async fn start(&mut self) -> Result<()> {
        let driver = Driver::start(&self.phone.variables(), &self.log)?;
        let client = match timeout(PATIENCE, connect(&driver.address())).await {
            Ok(client) => client?,
            Err(_) => return Err(self.unanswered("the app does not open")),
        };
        self.open = Some((client, driver));
        Ok(())
    }

    /// Closes the window, as a person does.
    ///
    /// # Errors
    ///
    /// When it does not close.
    pub async fn close(&mut self) -> Result<()> {
        if let Some((client, driver)) = self.open.take() {
            match timeout(PATIENCE, client.close()).await {
                Ok(closed) => closed?,
                Err(_) => return Err(self.unanswered("the app does not close")),
            }
            drop(driver);
        }
        Ok(())
    }

    /// Closes and opens it.
    ///
    /// # Errors
    ///
    /// As [`App::open`].
    pub async fn restart(&mut self) -> Result<()> {
        self.close().await?;
        self.start().await
    }

    /// Says that an answer did not come, and what each thread of the app waits for: whether it hangs is seen there.
    pub(crate) fn unanswered(&self, what: &str) -> Error {
        let threads = match process_with(&self.phone.data()) {
            Ok(process) => threads_of(process),
            Err(error) => format!("{error:#}"),
        };
        anyhow!("{what}; the driver's log is {}\n{threads}", self.log.display())
    }

    /// Ends the app's process where it stands, with no chance to put anything in order.
    ///
    /// # Errors
    ///
    /// When the process is not found: then nothing was killed, and a test that goes on would prove nothing.
    pub async fn kill(&mut self) -> Result<()> {
        let (client, driver) = self.open.take().context("the app is not open")?;
        let process = process_with(&self.phone.data())?;
        let killed = Command::new("kill").args(["-s", "KILL", &process.to_string()]).status()?;
        if !killed.success() {
            bail!("process {process} of the app could not be killed");
        }
        while Path::new("/proc").join(process.to_string()).join("environ").exists() && !is_dead(process) {
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
        // The session died with the app; closing it would only ask a dead window.
        drop(driver);
        drop(client);
        Ok(())
    }
}

async fn connect(address: &str) -> Result<Client> {
    let application = place::app()?;
    let wanted = json!({ "tauri:options": { "application": application } });
    let wanted = wanted.as_object().cloned().context("capabilities are an object")?;
    let mut last = None;
    for _ in 0..TRIES {
        match ClientBuilder::new(HttpConnector::new()).capabilities(wanted.clone()).connect(address).await {
            Ok(client) => return Ok(client),
            Err(error) => last = Some(error),
        }
        tokio::time::sleep(Duration::from_millis(150)).await;
    }
    Err(anyhow::Error::from(last.context("no connection was tried")?).context("the app does not open"))
}

/// Finds the app's process by the folder it was given; helpers of the webview have it too, but another name.
fn process_with(data: &Path) -> Result<u32> {
    let mark = [b"HEADMARK_DATA=", data.as_os_str().as_bytes()].concat();
    let application = place::app()?;
    for entry in fs::read_dir("/proc")? {
        let folder = entry?.path();
        let Some(process) = folder.file_name().and_then(|name| name.to_str()?.parse().ok()) else { continue };
        // Processes come and go while the list is read.
        let (Ok(program), Ok(variables)) =
            (fs::read_link(folder.join("exe")), fs::read(folder.join("environ")))
        else {
            continue;
        };
        let is_ours = variables.split(|byte| *byte == 0).any(|variable| variable == mark);
        if is_ours && program.file_name() == application.file_name() {
            return Ok(process);
        }
    }
    bail!("no process of the app runs on {}", data.display())
}

/// Lists the threads of a process: name, state, and where in the system each of them waits.
fn threads_of(process: u32) -> String {
    let folder = Path::new("/proc").join(process.to_string()).join("task");
    let threads = fs::read_dir(folder).into_iter().flatten().flatten().map(|thread| {
        let read = |name: &str| fs::read_to_string(thread.path().join(name)).unwrap_or_default();
        let status = read("status");
        let state = status.lines().find(|line| line.starts_with("State:")).unwrap_or_default();
        format!("{} {state} {}", read("comm").trim(), read("wchan"))
    });
    threads.collect::<Vec<_>>().join("\n")
}

/// A killed process stays in the list until its parent has asked after it.
fn is_dead(process: u32) -> bool {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    status.is_empty() || status.lines().any(|line| line.starts_with("State:") && line.contains('Z'))
}
