//! Entries of `reference/code.json`.

use serde_json::Value;

/// Returns the entries of a group, of which there must be `count`.
pub(crate) fn group(file: &str, name: &str, count: usize) -> Vec<Value> {
    let all: Value = serde_json::from_str(file).unwrap();
    let entries = all["entries"].as_array().unwrap().iter();
    let found: Vec<Value> = entries.filter(|entry| entry["group"] == name).cloned().collect();
    assert_eq!(found.len(), count, "entries of {name}");
    found
}

/// Returns what an entry gives under a name, in one of its lists.
pub(crate) fn named<'a>(entry: &'a Value, list: &str, name: &str) -> &'a Value {
    let row = entry[list].as_array().unwrap().iter().find(|row| row["name"] == name);
    &row.unwrap()["value"]
}
