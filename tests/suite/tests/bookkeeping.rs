//! Every value that the measurement was to be held to has one home: a reference file whose tests use it, or the list of
//! what is left out, with the reason.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, clippy::print_stdout)] // A panic in a test is its message.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

const LEFT_OUT: &str = "left_out.json";
const INDEX: &str = "index.json";

fn suite() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn entries(file: &Path) -> Vec<Value> {
    let all: Value = serde_json::from_str(&fs::read_to_string(file).unwrap()).unwrap();
    all["entries"].as_array().unwrap().clone()
}

fn text<'a>(entry: &'a Value, name: &str) -> &'a str {
    entry[name].as_str().unwrap_or_else(|| panic!("no {name} in {entry}"))
}

/// The reference files by their names, the index aside.
fn files() -> BTreeMap<String, Vec<Value>> {
    let folder = fs::read_dir(suite().join("reference")).unwrap().map(|entry| entry.unwrap().path());
    let files = folder.filter(|path| path.extension().is_some_and(|ending| ending == "json"));
    let named = files.map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), path));
    named.filter(|(name, _)| name != INDEX).map(|(name, path)| (name, entries(&path))).collect()
}

/// Everything that tests in Rust say, by file.
fn tests(folder: &Path, found: &mut Vec<String>) {
    for path in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if path.is_dir() {
            tests(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(fs::read_to_string(&path).unwrap());
        }
    }
}

/// Each value of the index stands in the file that the index names; one that stands in two is the same in both.
#[test]
fn every_value_has_its_home() {
    let (files, index) = (files(), entries(&suite().join("reference").join(INDEX)));
    assert_eq!(index.len(), 235, "values in the index");
    let ids: BTreeSet<&str> = index.iter().map(|entry| text(entry, "id")).collect();
    assert_eq!(ids.len(), index.len(), "a number stands in the index twice");
    let mut count = BTreeMap::new();
    for entry in &index {
        let (id, home, quantity) = (text(entry, "id"), text(entry, "home"), text(entry, "quantity"));
        let kept = files.get(home).unwrap_or_else(|| panic!("{id}: there is no file {home}"));
        let found = kept.iter().filter(|one| one["quantity"] == quantity).count();
        assert_eq!(found, 1, "{id} {quantity}: stands in {home} {found} times");
        *count.entry(home).or_insert(0) += 1;
    }
    println!("{count:?}");
}

#[test]
fn what_is_left_out_has_its_source_and_the_reason() {
    let files = files();
    for entry in &files[LEFT_OUT] {
        let quantity = text(entry, "quantity");
        assert!(text(entry, "why").len() > 30, "{quantity}: left out without a reason");
        assert!(!text(&entry["source"], "title").is_empty(), "{quantity}: without a source");
        let kept = files.iter().filter(|(_, entries)| entries.iter().any(|one| one["quantity"] == quantity));
        assert_eq!(kept.count(), 1, "{quantity}: left out, and tested");
    }
}

/// A test takes in each reference file and calls for each group in it, or for each entry by its number. That it takes
/// all of a group is the business of the test, which says how many there are.
#[test]
fn every_value_that_is_not_left_out_is_asked_for_by_a_test() {
    let mut sources = Vec::new();
    tests(&suite().join("tests"), &mut sources);
    for (file, entries) in files().iter().filter(|(name, _)| *name != LEFT_OUT) {
        let taken = format!("reference/{file}\"");
        let using: Vec<&String> = sources.iter().filter(|source| source.contains(&taken)).collect();
        assert!(!using.is_empty(), "no test takes in {file}");
        for entry in entries {
            let name = entry["group"].as_str().unwrap_or_else(|| text(entry, "id"));
            let called = format!("\"{name}\"");
            let asked = using.iter().any(|source| source.contains(&called));
            assert!(asked, "no test that takes in {file} asks for {name}");
            assert!(!text(&entry["source"], "title").is_empty(), "{file}: {name} without a source");
        }
    }
}
