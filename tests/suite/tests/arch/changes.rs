//! What people change at the hub is an entry: the hub's own sources change the register, the people and the settings only
//! by what follows from one, and never past it. What fills a store for a test may.

use crate::house::{TextFile, rust_files};
use crate::source::uses;

const HUB: &str = "src-tauri/crates/hub/src";

/// Calls of the store that change something and leave no entry.
const PAST_THE_LOG: [&str; 4] = ["put_rows", "put_person", "drop_person", "put_setting"];

fn breaches(file: &TextFile) -> Vec<String> {
    let methods = uses(&file.path, &file.text).methods;
    let past = methods.into_iter().filter(|method| PAST_THE_LOG.contains(&method.as_str()));
    past.map(|method| format!("{} calls {method}(), which leaves no entry", file.path)).collect()
}

#[test]
fn the_hub_changes_nothing_past_its_log() {
    let files = rust_files(HUB);
    assert!(files.len() > 50, "only {} files of the hub were found", files.len());
    assert_eq!(files.iter().flat_map(breaches).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn a_change_past_the_log_is_found() {
    for method in PAST_THE_LOG {
        let text = format!("async fn a(hub: &Hub) {{ hub.store.{method}(b).await; }}");
        let file = TextFile::invented("src-tauri/crates/hub/src/invented.rs", &text);
        assert_eq!(breaches(&file).len(), 1, "{method}");
    }
    // The settings of the folder are a file beside the store.
    let text = "fn a(place: &Place) { place.folder.put_settings(b); }";
    let file = TextFile::invented("src-tauri/crates/hub/src/invented.rs", text);
    assert_eq!(breaches(&file), Vec::<String>::new());
}
