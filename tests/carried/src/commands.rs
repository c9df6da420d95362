//! Calling the hub's commands.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};

use crate::Objects;

/// How a hub's program is called: with which folder and which database.
#[derive(Debug, Clone)]
pub(crate) struct Commands {
    pub(crate) folder: PathBuf,
    pub(crate) database: Option<String>,
    /// Where photos are, if not in the folder.
    pub(crate) photos: Option<Objects>,
}

impl Commands {
    /// Calls it and returns what it said.
    pub(crate) fn call(&self, arguments: &[&str]) -> Result<String> {
        let done = self.command()?.args(arguments).output()?;
        let told = String::from_utf8_lossy(&done.stderr);
        ensure!(done.status.success(), "headmark-hub {} failed: {told}", arguments.join(" "));
        Ok(String::from_utf8_lossy(&done.stdout).into_owned())
    }

    /// Begins a call.
    pub(crate) fn command(&self) -> Result<Command> {
        let mut command = Command::new(program()?);
        self.place(&mut command);
        Ok(command)
    }

    /// Says where the hub is, in a command.
    pub(crate) fn place(&self, command: &mut Command) {
        command.arg("--folder").arg(&self.folder);
        if let Some(photos) = &self.photos {
            photos.name_in(command);
        }
        match &self.database {
            Some(database) => command.env("HEADMARK_HUB_DATABASE", database),
            None => command.env_remove("HEADMARK_HUB_DATABASE"),
        };
    }
}

/// The hub's program: named by `HEADMARK_HUB`, or built beside this one.
pub(crate) fn program() -> Result<PathBuf> {
    let named = std::env::var_os("HEADMARK_HUB").map(PathBuf::from);
    let own = std::env::current_exe()?;
    let beside = own.ancestors().skip(1).take(2).map(|folder| folder.join("headmark-hub"));
    let found = named.into_iter().chain(beside).find(|program| program.is_file());
    found.context(
        "There is no headmark-hub here. Build it first: cargo build --package hub --bin headmark-hub",
    )
}

/// A path as an argument.
pub(crate) fn text(path: &Path) -> Result<&str> {
    path.to_str().context("a path that is no text")
}
