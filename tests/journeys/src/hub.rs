//! The utility's hub, as processes of `headmark-hub` beside the app.

use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::net::{SocketAddr, TcpListener};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use anyhow::{Context, Result, ensure};
use serde_json::Value;

use crate::place;

/// The passphrase of the invented organisation's key. A real one is known to two people and written nowhere.
const PASSPHRASE: &str = "marrowby water stands at sedge hill";

/// The register that the hub takes in: the one that the phones of the invented utility have.
const REGISTER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/data/register.json");

/// The file of a hub's folder that says where it answers.
const SETTINGS: &str = "hub.json";

/// A hub, which answers or not. Its process ends with it.
#[derive(Debug)]
pub struct Hub {
    program: PathBuf,
    folder: PathBuf,
    at: SocketAddr,
    serving: Option<Child>,
}

impl Hub {
    /// Makes a hub in a folder, takes the register in, writes the technician down, and starts to answer.
    ///
    /// # Errors
    ///
    /// What its program says, or that it is not built.
    pub fn start(folder: &Path, technician: &str) -> Result<Hub> {
        // Nothing listens there just now.
        let at = TcpListener::bind("127.0.0.1:0")?.local_addr()?;
        let mut hub =
            Hub { program: place::built("headmark-hub")?, folder: folder.to_owned(), at, serving: None };
        let passphrase = folder.with_extension("passphrase");
        fs::write(&passphrase, PASSPHRASE)?;
        let (address, passphrase) = (hub.address(), text(&passphrase)?);
        let told = ["--label", "Marrowby hub", "--address", &address, "--passphrase-file", passphrase];
        hub.call(&[&["init"], told.as_slice()].concat())?;
        hub.call(&["import", REGISTER])?;
        hub.call(&["person", "add", technician, "--no-sign-in"])?;
        hub.answer()?;
        Ok(hub)
    }

    /// The hub that was made in a folder before, silent as yet.
    ///
    /// # Errors
    ///
    /// When there is none, or its program is not built.
    pub fn at(folder: &Path) -> Result<Hub> {
        let file = folder.join(SETTINGS);
        let told = fs::read(&file).with_context(|| format!("there is no hub: {}", file.display()))?;
        let told: Value = serde_json::from_slice(&told)?;
        let address = told.get("address").and_then(Value::as_str).context("a hub without an address")?;
        let at = address.strip_prefix("https://").context("a hub's address begins with https")?.parse()?;
        Ok(Hub { program: place::built("headmark-hub")?, folder: folder.to_owned(), at, serving: None })
    }

    /// The hub in a folder, which answers: the one that was made there before, or a new one.
    ///
    /// # Errors
    ///
    /// As [`Hub::at`] and [`Hub::start`].
    pub fn kept(folder: &Path, technician: &str) -> Result<Hub> {
        if !folder.join(SETTINGS).is_file() {
            return Hub::start(folder, technician);
        }
        let mut hub = Hub::at(folder)?;
        hub.answer()?;
        Ok(hub)
    }

    /// The hub of a journey, beside what the journey leaves.
    ///
    /// # Errors
    ///
    /// As [`Hub::start`].
    pub fn of_journey(name: &str, technician: &str) -> Result<Hub> {
        let folder = place::pictures()?.join(format!("{name}.hub"));
        if folder.exists() {
            fs::remove_dir_all(&folder)?;
        }
        Hub::start(&folder, technician)
    }

    /// Starts to answer, at the address that it always had, and waits until it does.
    ///
    /// # Errors
    ///
    /// When it does not; its log tells why.
    pub fn answer(&mut self) -> Result<()> {
        let log = self.folder.with_extension("log");
        let mut serving = Command::new(&self.program);
        serving.arg("--folder").arg(&self.folder).args(["serve", "--listen", &self.at.to_string()]);
        serving.stdin(Stdio::null()).stdout(Stdio::piped());
        serving.stderr(File::options().create(true).append(true).open(&log)?);
        let mut serving =
            serving.spawn().with_context(|| format!("{} does not start", self.program.display()))?;
        let said = serving.stdout.take().context("no output")?;
        self.serving = Some(serving);
        let mut line = String::new();
        BufReader::new(said).read_line(&mut line)?;
        ensure!(line.starts_with("Listening at "), "the hub does not answer: {line}, see {}", log.display());
        Ok(())
    }

    /// Goes silent: whoever calls finds nobody.
    ///
    /// # Errors
    ///
    /// When it does not end.
    pub fn go_silent(&mut self) -> Result<()> {
        if let Some(mut serving) = self.serving.take() {
            serving.kill()?;
            serving.wait()?;
        }
        Ok(())
    }

    /// Returns where it answers.
    #[must_use]
    pub fn address(&self) -> String {
        format!("https://{}", self.at)
    }

    /// Returns the text of a code that enrols one phone.
    ///
    /// # Errors
    ///
    /// What its program says.
    pub fn invitation(&self, technician: &str, phone: &str) -> Result<String> {
        let said = self.call(&["enrol", "--person", technician, "--label", phone, "--no-wait"])?;
        let line = said.lines().find(|line| line.starts_with("headmark-enrol:"));
        Ok(line.context("the hub showed no code")?.to_owned())
    }

    /// Returns the picture of a code that enrols one phone, as it stands on the hub's screen.
    ///
    /// # Errors
    ///
    /// What its program says.
    pub fn code(&self, technician: &str, phone: &str) -> Result<PathBuf> {
        let picture = self.folder.with_extension("code.png");
        let drawn = ["--no-wait", "--png", text(&picture)?];
        self.call(&[&["enrol", "--person", technician, "--label", phone], drawn.as_slice()].concat())?;
        Ok(picture)
    }

    /// Confirms the phone that shows these digits.
    ///
    /// # Errors
    ///
    /// When no phone that waits has them.
    pub fn confirm(&self, digits: &str) -> Result<()> {
        self.call(&["enrol", "--confirm", digits]).map(drop)
    }

    /// Writes the records of an instrument to a file, whose name decides its form.
    ///
    /// # Errors
    ///
    /// What its program says.
    pub fn export(&self, tag: &str, file: &Path) -> Result<()> {
        self.call(&["export", text(file)?, "--tag", tag]).map(drop)
    }

    /// Returns how the hub stands.
    ///
    /// # Errors
    ///
    /// What its program says.
    pub fn status(&self) -> Result<String> {
        self.call(&["status"])
    }

    /// Returns the bytes of every photo that it keeps.
    ///
    /// # Errors
    ///
    /// When its folder cannot be read.
    pub fn photos(&self) -> Result<Vec<Vec<u8>>> {
        let (mut photos, mut folders) = (Vec::new(), vec![self.folder.join("photos")]);
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder)? {
                let path = entry?.path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    photos.push(fs::read(path)?);
                }
            }
        }
        Ok(photos)
    }

    /// Calls the hub's program and returns what it said.
    fn call(&self, arguments: &[&str]) -> Result<String> {
        let done = Command::new(&self.program).arg("--folder").arg(&self.folder).args(arguments).output()?;
        let told = String::from_utf8_lossy(&done.stderr);
        ensure!(done.status.success(), "headmark-hub {} failed: {told}", arguments.join(" "));
        Ok(String::from_utf8_lossy(&done.stdout).into_owned())
    }
}

impl Drop for Hub {
    /// The process is this one's own, and what it answered is on the storage.
    fn drop(&mut self) {
        // Nothing more can be done where it has ended by itself.
        drop(self.go_silent());
    }
}

fn text(path: &Path) -> Result<&str> {
    path.to_str().context("a path that is no text")
}
