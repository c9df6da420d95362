//! Writes the views into `ui/look/views`, or into the folder named on the command line.

use std::path::PathBuf;

fn main() -> anyhow::Result<()> {
    let folder = std::env::args_os().nth(1).map_or_else(|| PathBuf::from(looks::FOLDER), PathBuf::from);
    bindings::write(&folder, ".json", &looks::files()?)
}
