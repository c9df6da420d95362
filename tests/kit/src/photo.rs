//! Photographs of the invented utility's labels, the same that the demonstration reads.

use std::path::{Path, PathBuf};

/// Returns where a photograph is, by its name.
#[must_use]
pub fn photo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/assets").join(name)
}
