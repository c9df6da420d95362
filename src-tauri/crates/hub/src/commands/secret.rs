//! Passphrases and passwords: out of a file, or typed where nobody sees them.

use std::path::Path;

use anyhow::{Context, Result, ensure};

use crate::keys::Passphrase;

/// Returns the first line of a file.
fn first_line(path: &Path) -> Result<String> {
    let text = std::fs::read_to_string(path).with_context(|| {
        format!("{} could not be read. Name a file whose first line is the secret.", path.display())
    })?;
    Ok(text.lines().next().unwrap_or_default().to_owned())
}

/// Asks for a secret twice, or takes it from a file.
pub(super) fn new_secret(what: &str, file: Option<&Path>) -> Result<String> {
    if let Some(file) = file {
        return first_line(file);
    }
    let typed = ask(&format!("New {what}: "))?;
    let again = ask("The same again: ")?;
    ensure!(typed == again, "The two are not the same. Start again.");
    Ok(typed)
}

/// Asks for a passphrase that was chosen before, or takes it from a file.
pub(super) fn passphrase(file: Option<&Path>) -> Result<Passphrase> {
    let typed = match file {
        Some(file) => first_line(file)?,
        None => ask("Passphrase of the organisation key: ")?,
    };
    Ok(Passphrase::typed(typed))
}

fn ask(prompt: &str) -> Result<String> {
    rpassword::prompt_password(prompt)
        .context("There is no terminal to type a secret at. Name a file with it on the command line.")
}
