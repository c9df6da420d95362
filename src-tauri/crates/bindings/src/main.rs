//! Writes the pages' types into `ui/src/api/types`, or into the folder named on the command line.

use std::path::PathBuf;

fn main() -> anyhow::Result<()> {
    let folder = std::env::args_os().nth(1).map_or_else(default_folder, PathBuf::from);
    bindings::write(&folder, ".ts", &bindings::files()?)
}

fn default_folder() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../../ui/src/api/types"))
}
