//! The PostgreSQL that `tests/lib/postgres.sh` starts.

use std::process::Command;

use anyhow::{Context, Result, ensure};

/// Makes a database of this name, fresh, and returns its address.
///
/// # Errors
///
/// When there is no server, or it refuses.
pub fn database(name: &str) -> Result<String> {
    let server = std::env::var("HEADMARK_TEST_POSTGRES")
        .context("There is no PostgreSQL here. Run this through tests/lib/postgres.sh")?;
    let create = format!("CREATE DATABASE {name}");
    let done = Command::new("psql").args([&server, "--quiet", "--command", &create]).output()?;
    ensure!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let (server, _) = server.rsplit_once('/').context("an address without a database")?;
    Ok(format!("{server}/{name}"))
}

/// Does `stop`, `start`, `restart` or `kill` to the server.
///
/// # Errors
///
/// When there is no server, or it does not.
pub fn control_postgres(word: &str) -> Result<()> {
    let control = std::env::var("HEADMARK_TEST_POSTGRES_CTL")
        .context("There is no PostgreSQL here. Run this through tests/lib/postgres.sh")?;
    ensure!(Command::new(control).arg(word).status()?.success(), "PostgreSQL did not {word}");
    Ok(())
}
