//! The invented utility's register, the same file that the demonstration loads.

use anyhow::{Context, Result};
use domain::visit::Instrument;

/// Returns the register file's bytes.
#[must_use]
pub fn register() -> &'static [u8] {
    include_bytes!("../../../demo/data/register.json")
}

/// Returns one of its instruments.
///
/// # Errors
///
/// When the register has no such tag, or is no register.
pub fn instrument(tag: &str) -> Result<Instrument> {
    let file: serde_json::Value = serde_json::from_slice(register())?;
    let rows =
        file.get("instruments").and_then(|rows| rows.as_array()).context("the register has no rows")?;
    let row = rows.iter().find(|row| row.get("tag").is_some_and(|found| found == tag));
    let row = row.with_context(|| format!("the register has no {tag}"))?;
    Ok(serde_json::from_value(row.clone())?)
}
