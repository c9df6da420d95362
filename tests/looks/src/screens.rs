//! Every screen by its name.

use std::collections::BTreeMap;

use anyhow::Result;
use serde::Serialize;
use serde_json::{Value, json};

use crate::lines::lines;
use crate::{before, decided, linking, mountings, pin, sending, tower};

/// Where the views stand in the tree.
pub const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../ui/look/views");

/// Screens by their names: what the page holds, where it is first.
pub(crate) type Screens = BTreeMap<&'static str, Value>;

/// Returns every file: its name, and its text.
///
/// # Errors
///
/// What the core says; a visit that does not lead where it is looked at.
pub fn files() -> Result<BTreeMap<String, String>> {
    let mut all = before::screens()?;
    all.extend(decided::screens()?);
    all.extend(linking::screens()?);
    all.extend(tower::screens()?);
    all.extend(mountings::screens()?);
    all.extend(pin::screens()?);
    all.extend(sending::screens()?);
    Ok(all.into_iter().map(|(name, screen)| (format!("{name}.json"), lines(&screen))).collect())
}

/// Returns a screen that holds one view.
pub(crate) fn screen(at: &str, view: impl Serialize) -> Result<Value> {
    Ok(json!({ "at": at, "view": serde_json::to_value(view)? }))
}
