//! The invented utility's register, and instruments beside it for the mountings that the demonstration has none of.

use anyhow::{Context, Result};
use serde_json::Value;

const MORE: &str = include_str!("../data/register.json");

/// Returns the register file.
pub(crate) fn register() -> Result<Value> {
    let mut file: Value = serde_json::from_slice(kit::register())?;
    let rows = file.get_mut("instruments").and_then(Value::as_array_mut);
    let more: Vec<Value> = serde_json::from_str(MORE)?;
    rows.context("the register has no rows")?.extend(more);
    Ok(file)
}

/// Returns the register file as somebody in a hurry left it: a riser in doubt and a row without a tag.
pub(crate) fn careless() -> Result<Value> {
    let mut file = register()?;
    let rows =
        file.get_mut("instruments").and_then(Value::as_array_mut).context("the register has no rows")?;
    let mut set = |row: usize, name: &str, text: &str| {
        let field = rows.get_mut(row).and_then(|row| row.get_mut(name));
        field.map(|field| *field = Value::from(text)).context("the register has no such field")
    };
    set(2, "riser", "6,5")?;
    set(4, "tag", "")?;
    Ok(file)
}
