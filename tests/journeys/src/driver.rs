//! The driver of the app's webview, as a process.
//!
//! It is two programs, one starting the other, and the second starts the app. They get a process group of their
//! own and are ended as a group, politely: ended with SIGKILL the first leaves the second alive, and with it
//! whatever pipe it was given, so that a test run that waits for the pipe's end never returns. For the same
//! reason what they print goes to a file.

use std::ffi::OsString;
use std::fs::File;
use std::net::TcpListener;
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{self, Child, Command, Stdio};
use std::sync::atomic::{AtomicU16, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

use crate::place;

/// How long a process may take to end before it is made to.
const PATIENCE: Duration = Duration::from_secs(5);

/// A running driver; ends when it is dropped, and the app with it.
#[derive(Debug)]
pub(crate) struct Driver {
    process: Child,
    port: u16,
}

impl Driver {
    /// Starts a driver whose app gets the variables.
    pub(crate) fn start(variables: &[(&str, OsString)], log: &Path) -> Result<Driver> {
        let (port, native) = two_free_ports()?;
        let printed = File::options().create(true).append(true).open(log)?;
        let process = Command::new(place::program("tauri-driver")?)
            .args(["--port", &port.to_string(), "--native-port", &native.to_string(), "--native-driver"])
            .arg(place::program("WebKitWebDriver")?)
            .envs(variables.iter().map(|(name, value)| (name, value)))
            .stdin(Stdio::null())
            .stdout(printed.try_clone()?)
            .stderr(printed)
            .process_group(0)
            .spawn()
            .context("tauri-driver does not start")?;
        Ok(Driver { process, port })
    }

    /// Returns where it listens.
    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// Sends a signal to the whole group.
    fn signal(&self, name: &str) {
        let group = format!("-{}", self.process.id());
        // A group that is gone already is what was wanted.
        let _ = Command::new("kill").args(["-s", name, "--", &group]).stderr(Stdio::null()).status();
    }

    fn ended_within(&mut self, patience: Duration) -> bool {
        let start = Instant::now();
        while start.elapsed() < patience {
            if !matches!(self.process.try_wait(), Ok(None)) {
                return true;
            }
            thread::sleep(Duration::from_millis(20));
        }
        false
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        self.signal("TERM");
        if !self.ended_within(PATIENCE) {
            self.signal("KILL");
            self.ended_within(PATIENCE);
        }
    }
}

/// Ports that no system gives away by itself (they begin at 32768 on Linux, at 49152 by IANA): one of those can become
/// the near end of somebody's connection before the driver has it, and then the driver waits for itself.
const PORTS: std::ops::Range<u16> = 12_000..32_000;

/// Both are held until both are known, so that they differ. Journeys in one process never get the same, those of several
/// begin apart.
fn two_free_ports() -> Result<(u16, u16)> {
    let one = a_free_port()?;
    let other = a_free_port()?;
    Ok((one.local_addr()?.port(), other.local_addr()?.port()))
}

fn a_free_port() -> Result<TcpListener> {
    static TAKEN: AtomicU16 = AtomicU16::new(0);
    let many = PORTS.end - PORTS.start;
    let begin = u16::try_from(process::id() % u32::from(many))?;
    for _ in 0..many {
        let step = TAKEN.fetch_add(1, Ordering::Relaxed) % many;
        let port = PORTS.start + begin.wrapping_add(step) % many;
        if let Ok(listener) = TcpListener::bind(("127.0.0.1", port)) {
            return Ok(listener);
        }
    }
    bail!("no port between {} and {} is free", PORTS.start, PORTS.end)
}
