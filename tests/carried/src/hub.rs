//! A hub: `headmark-hub` in a folder of its own, as a process that can be killed.

use std::fs::{self, OpenOptions};
use std::io::{BufRead, BufReader};
use std::net::{SocketAddr, TcpListener};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;

use anyhow::{Context, Result, ensure};
use rustix::process::{Pid, Signal, kill_process};
use tempfile::TempDir;

use crate::commands::{Commands, program, text};
use crate::{Held, Objects};

/// The passphrase of the invented organisation's key. A real one is known to two people and written nowhere.
const PASSPHRASE: &str = "marrowby water stands at sedge hill";

/// The name of the organisation key's file in a hub's folder.
const ORGANISATION: &str = "organisation.key";

/// Who confirms phones and revokes them.
const SUPERVISOR: &str = "Tom Achterberg";

const REGISTER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/data/register.json");

/// A hub. It is killed when it goes out of scope.
#[derive(Debug)]
pub struct Hub {
    home: Arc<Home>,
    commands: Commands,
    at: SocketAddr,
    serving: Option<Child>,
}

/// Where all of a hub's files lie: a folder that goes away with it, or one that stays.
#[derive(Debug)]
enum Home {
    Temporary(TempDir),
    Kept(PathBuf),
}

impl Home {
    fn path(&self) -> &Path {
        match self {
            Home::Temporary(folder) => folder.path(),
            Home::Kept(folder) => folder,
        }
    }
}

impl Hub {
    /// Founds a hub that keeps its data in a file, takes the invented utility's register in, and serves.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn founded() -> Result<Hub> {
        Hub::found(Home::Temporary(tempfile::tempdir()?), None, None)
    }

    /// The same with a PostgreSQL database.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn founded_on(database: String) -> Result<Hub> {
        Hub::found(Home::Temporary(tempfile::tempdir()?), Some(database), None)
    }

    /// The same with photos in an object store, and the rest in a file.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn founded_with(photos: Objects) -> Result<Hub> {
        Hub::found(Home::Temporary(tempfile::tempdir()?), None, Some(photos))
    }

    /// The same in a folder that is there and stays.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn founded_in(folder: &Path) -> Result<Hub> {
        Hub::found(Home::Kept(folder.to_owned()), None, None)
    }

    /// The hub that was founded in a folder before; it does not serve yet.
    ///
    /// # Errors
    ///
    /// When no port is free.
    pub fn kept_in(folder: &Path) -> Result<Hub> {
        Hub::over(Home::Kept(folder.to_owned()), "hub", None, None)
    }

    fn over(home: Home, folder: &str, database: Option<String>, photos: Option<Objects>) -> Result<Hub> {
        let commands = Commands { folder: home.path().join(folder), database, photos };
        Ok(Hub { home: Arc::new(home), commands, at: free_address()?, serving: None })
    }

    fn found(home: Home, database: Option<String>, photos: Option<Objects>) -> Result<Hub> {
        let mut hub = Hub::over(home, "hub", database, photos)?;
        fs::write(hub.passphrase_file(), PASSPHRASE)?;
        let (address, passphrase) = (format!("https://{}", hub.at), hub.passphrase_file());
        let passphrase = text(&passphrase)?;
        hub.call(&[
            "init",
            "--label",
            "Marrowby hub",
            "--address",
            &address,
            "--passphrase-file",
            passphrase,
        ])?;
        hub.call(&["import", REGISTER])?;
        hub.call(&["person", "add", SUPERVISOR, "--no-sign-in"])?;
        hub.serve()?;
        Ok(hub)
    }

    /// From the next start on, keeps photos by another way to an object store.
    pub fn keep_photos_in(&mut self, photos: Objects) {
        self.commands.photos = Some(photos);
    }

    /// Another process of the same hub, on another port: it shares the database.
    ///
    /// # Errors
    ///
    /// When it does not start, or there is no database to share.
    pub fn beside(&self) -> Result<Hub> {
        ensure!(self.commands.database.is_some(), "two processes share a database, never a file");
        let (home, commands) = (Arc::clone(&self.home), self.commands.clone());
        let mut hub = Hub { home, commands, at: free_address()?, serving: None };
        hub.serve()?;
        Ok(hub)
    }

    /// Makes a hub out of a backup, at the address of this one, which must have ended. It serves.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn restored(&self, backup: &Path) -> Result<Hub> {
        self.restored_with(backup, None, &[])
    }

    /// The same, with more words to the command.
    ///
    /// # Errors
    ///
    /// As [`Hub::restored`].
    pub fn restored_by(&self, backup: &Path, more: &[&str]) -> Result<Hub> {
        self.restored_with(backup, None, more)
    }

    /// The same with photos in an object store, or in its folder where none is given.
    ///
    /// # Errors
    ///
    /// What its commands say.
    pub fn restored_to(&self, backup: &Path, photos: Option<Objects>) -> Result<Hub> {
        self.restored_with(backup, photos, &[])
    }

    fn restored_with(&self, backup: &Path, photos: Option<Objects>, more: &[&str]) -> Result<Hub> {
        let commands = Commands { folder: self.home.path().join("restored"), database: None, photos };
        let mut hub = Hub { home: Arc::clone(&self.home), commands, at: self.at, serving: None };
        let (key, passphrase) = (self.folder().join(ORGANISATION), self.passphrase_file());
        let (key, passphrase) = (text(&key)?, text(&passphrase)?);
        let restore = ["restore", text(backup)?, "--organisation", key, "--passphrase-file", passphrase];
        hub.call(&[&restore, more].concat())?;
        hub.serve()?;
        Ok(hub)
    }

    /// Starts the process and waits until it listens.
    ///
    /// # Errors
    ///
    /// When it does not start; then with what it logged.
    pub fn serve(&mut self) -> Result<()> {
        let command = self.commands.command()?;
        self.serve_by(command)
    }

    /// The same with files that may not grow above so many KiB: to the hub its storage is full then. The limit can be
    /// taken away while it serves.
    ///
    /// # Errors
    ///
    /// As [`Hub::serve`].
    pub fn serve_within(&mut self, kib: u64) -> Result<()> {
        let mut command = Command::new("sh");
        // A write beyond the limit is to fail, as on a full disk, and not to end the process.
        let line = format!("trap '' XFSZ; ulimit -S -f {}; exec \"$0\" \"$@\"", kib * 2);
        command.args(["-c", &line]).arg(program()?);
        self.commands.place(&mut command);
        self.serve_by(command)
    }

    fn serve_by(&mut self, mut command: Command) -> Result<()> {
        let log = OpenOptions::new().create(true).append(true).open(self.log_file())?;
        command.args(["serve", "--listen", &self.at.to_string()]);
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(log).spawn()?;
        let said = child.stdout.take().context("no output")?;
        let mut line = String::new();
        BufReader::new(said).read_line(&mut line)?;
        self.serving = Some(child);
        ensure!(line.starts_with("Listening at "), "the hub does not serve: {line}{}", self.logged()?);
        Ok(())
    }

    /// Kills the process as a crash does: nothing is written out, nobody is told.
    ///
    /// # Errors
    ///
    /// When it does not run.
    pub fn kill(&mut self) -> Result<()> {
        let mut child = self.serving.take().context("the hub does not serve")?;
        child.kill()?;
        child.wait()?;
        Ok(())
    }

    /// Asks the process to end, and waits until it has.
    ///
    /// # Errors
    ///
    /// When it does not run, or does not end well.
    pub fn stop(&mut self) -> Result<()> {
        let mut child = self.serving.take().context("the hub does not serve")?;
        kill_process(pid(&child)?, Signal::TERM)?;
        let ended = child.wait()?;
        ensure!(ended.success(), "the hub ended with {ended}: {}", self.logged()?);
        Ok(())
    }

    /// Lets its files grow again, while it serves.
    ///
    /// # Errors
    ///
    /// When it does not run.
    pub fn give_space(&self) -> Result<()> {
        let pid = pid(self.serving.as_ref().context("the hub does not serve")?)?;
        let free = rustix::process::Rlimit { current: None, maximum: None };
        rustix::process::prlimit(Some(pid), rustix::process::Resource::Fsize, free)?;
        Ok(())
    }

    /// Returns the most memory that the process has had so far, in KiB.
    ///
    /// # Errors
    ///
    /// When it does not run, or the system does not say.
    pub fn most_memory(&self) -> Result<u64> {
        let child = self.serving.as_ref().context("the hub does not serve")?;
        let status = fs::read_to_string(format!("/proc/{}/status", child.id()))?;
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        Ok(line.context("no VmHWM")?.trim().trim_end_matches(" kB").parse()?)
    }

    /// Where it listens.
    #[must_use]
    pub fn at(&self) -> SocketAddr {
        self.at
    }

    /// Its folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.commands.folder
    }

    /// A path beside its folder, for a backup or an export.
    #[must_use]
    pub fn beside_folder(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }

    /// Calls one of its commands and returns what it said.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn call(&self, arguments: &[&str]) -> Result<String> {
        self.commands.call(arguments)
    }

    /// Copies it to a folder that is not there yet, and returns the folder.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn backup(&self, name: &str) -> Result<PathBuf> {
        let to = self.beside_folder(name);
        self.call(&["backup", text(&to)?])?;
        Ok(to)
    }

    /// Makes a one-time code and returns its text.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn invitation(&self, label: &str) -> Result<String> {
        self.invitation_for(SUPERVISOR, label)
    }

    /// The same for a phone of somebody who is written down.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn invitation_for(&self, person: &str, label: &str) -> Result<String> {
        let said = self.call(&["enrol", "--person", person, "--label", label, "--no-wait"])?;
        let line = said.lines().find(|line| line.starts_with("headmark-enrol:"));
        Ok(line.context("the hub showed no code")?.to_owned())
    }

    /// Confirms the phone that shows these digits.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn confirm(&self, digits: &str) -> Result<()> {
        self.call(&["enrol", "--confirm", digits, "--by", SUPERVISOR]).map(drop)
    }

    /// Revokes a log from a place on.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn revoke(&self, log: record::LogId, last: u64, reason: &str) -> Result<()> {
        let (log, last) = (whole(log), last.to_string());
        self.call(&["revoke", &log, "--last", &last, "--reason", reason, "--by", SUPERVISOR]).map(drop)
    }

    /// Calls one of its commands that need the organisation key.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn call_by_organisation(&self, arguments: &[&str], key: &Path) -> Result<String> {
        let passphrase = self.passphrase_file();
        let by = ["--organisation", text(key)?, "--passphrase-file", text(&passphrase)?];
        self.call(&[arguments, &by[..]].concat())
    }

    /// The organisation key's file, which was never moved away here.
    #[must_use]
    pub fn organisation_file(&self) -> PathBuf {
        self.folder().join(ORGANISATION)
    }

    /// The log that it signs.
    ///
    /// # Errors
    ///
    /// What the command says.
    pub fn log(&self) -> Result<String> {
        let said = self.call(&["status"])?;
        let line = said.lines().find_map(|line| line.strip_prefix("hub log"));
        Ok(line.context("the hub names no log")?.trim().to_owned())
    }

    /// Copies its folder as it lies, with its keys, and returns a hub in the copy: what a thief of the machine has. It does
    /// not serve yet.
    ///
    /// # Errors
    ///
    /// When the folder cannot be copied.
    pub fn copied(&self, name: &str) -> Result<Hub> {
        let to = self.beside_folder(name);
        for folder in ["", "keys", "photos"] {
            let (from, to) = (self.folder().join(folder), to.join(folder));
            fs::create_dir_all(&to)?;
            for entry in fs::read_dir(from)? {
                let entry = entry?;
                if entry.file_type()?.is_file() {
                    fs::copy(entry.path(), to.join(entry.file_name()))?;
                }
            }
        }
        let commands = Commands { folder: to, database: None, photos: None };
        Ok(Hub { home: Arc::clone(&self.home), commands, at: free_address()?, serving: None })
    }

    /// Returns all that it holds, by its own export, which is proved on the way.
    ///
    /// # Errors
    ///
    /// What the commands say.
    pub fn held(&self) -> Result<Held> {
        let file = self.beside_folder(&format!("held-{}.bundle", self.at.port()));
        self.call(&["export", text(&file)?])?;
        Held::read(&fs::read(&file)?)
    }

    /// Returns what the process has logged.
    ///
    /// # Errors
    ///
    /// When the file cannot be read.
    pub fn logged(&self) -> Result<String> {
        Ok(fs::read_to_string(self.log_file())?)
    }

    fn log_file(&self) -> PathBuf {
        self.beside_folder(&format!("hub-{}.log", self.at.port()))
    }

    /// The file with its passphrase.
    #[must_use]
    pub fn passphrase_file(&self) -> PathBuf {
        self.beside_folder("passphrase")
    }
}

impl Drop for Hub {
    /// The process is this one's own, and what it answered is on the storage.
    fn drop(&mut self) {
        if self.serving.is_some() {
            // Nothing more can be done where it has ended by itself.
            drop(self.kill());
        }
    }
}

/// All digits of a log's name; in sentences it is shortened.
#[must_use]
pub fn whole(log: record::LogId) -> String {
    log.0.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn pid(child: &Child) -> Result<Pid> {
    Pid::from_raw(i32::try_from(child.id())?).context("no such process")
}

/// An address at which nothing listens just now.
fn free_address() -> Result<SocketAddr> {
    Ok(TcpListener::bind("127.0.0.1:0")?.local_addr()?)
}
