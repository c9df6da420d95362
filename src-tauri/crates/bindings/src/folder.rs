//! The folder the files stand in.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::Context;

/// Makes a folder hold exactly these files: writes each, and takes away every other file that ends like them.
///
/// # Errors
///
/// Names the file that could not be written or removed.
pub fn write(folder: &Path, ending: &str, files: &BTreeMap<String, String>) -> anyhow::Result<()> {
    fs::create_dir_all(folder).with_context(|| format!("{} was not made", folder.display()))?;
    for name in held(folder, ending)?.keys().filter(|name| !files.contains_key(*name)) {
        fs::remove_file(folder.join(name)).with_context(|| format!("{name} was not removed"))?;
    }
    for (name, text) in files {
        fs::write(folder.join(name), text).with_context(|| format!("{name} was not written"))?;
    }
    Ok(())
}

/// Returns what differs between two folders, in sentences: a file missing, left over or stale.
///
/// # Errors
///
/// Names the folder or file that could not be read.
pub fn differences(is: &Path, should_be: &Path, ending: &str) -> anyhow::Result<Vec<String>> {
    let is = held(is, ending)?;
    let should_be = held(should_be, ending)?;
    let mut found = Vec::new();
    for (name, text) in &should_be {
        match is.get(name) {
            None => found.push(format!("{name} is missing")),
            Some(other) if other != text => found.push(format!("{name} is stale")),
            Some(_) => {}
        }
    }
    found.extend(
        is.keys().filter(|name| !should_be.contains_key(*name)).map(|name| format!("{name} is left over")),
    );
    Ok(found)
}

fn held(folder: &Path, ending: &str) -> anyhow::Result<BTreeMap<String, String>> {
    let mut files = BTreeMap::new();
    let entries = fs::read_dir(folder).with_context(|| format!("{} was not read", folder.display()))?;
    for entry in entries {
        let path = entry?.path();
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default().to_owned();
        if name.ends_with(ending) {
            let text = fs::read_to_string(&path).with_context(|| format!("{name} was not read"))?;
            files.insert(name, text);
        }
    }
    Ok(files)
}
