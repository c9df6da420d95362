//! Tells what happens, a line each.

use std::io::{self, Write};

use anyhow::Result;

/// Tells one thing and its value.
pub(crate) fn line(what: &str, value: &str) -> Result<()> {
    writeln!(io::stdout().lock(), "{what:<12} {value}")?;
    Ok(())
}
