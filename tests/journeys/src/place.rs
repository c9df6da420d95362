//! Where the built app, the driver of its webview and the pictures are.

use std::env;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

/// Returns the root of the repository.
pub(crate) fn repository() -> Result<PathBuf> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let root = here.ancestors().nth(2).context("the journeys have left the repository")?;
    Ok(root.to_owned())
}

/// Returns the built app.
///
/// # Errors
///
/// When it is not built.
pub fn app() -> Result<PathBuf> {
    built("headmark")
}

/// Returns a program of this project, as it was built last.
pub(crate) fn built(name: &str) -> Result<PathBuf> {
    let target = env::var_os("CARGO_TARGET_DIR").map_or(repository()?.join("target"), PathBuf::from);
    let program = target.join("debug").join(name);
    if !program.is_file() {
        bail!("{} is not there: build it with `tests/run app`", program.display());
    }
    Ok(program)
}

/// Returns a program by its name, looked for where programs are.
pub(crate) fn program(name: &str) -> Result<PathBuf> {
    let path = env::var_os("PATH").unwrap_or_default();
    let found = env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file());
    found.with_context(|| format!("{name} is not installed: `tests/run` installs it"))
}

/// Returns the folder for pictures of journeys that failed, and for the drivers' logs.
pub(crate) fn pictures() -> Result<PathBuf> {
    let folder = repository()?.join("tests/out/journeys");
    std::fs::create_dir_all(&folder)?;
    Ok(folder)
}
