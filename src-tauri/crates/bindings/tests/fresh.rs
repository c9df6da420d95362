//! The types in the tree are those that the Rust types give today.

use std::fs;
use std::path::Path;

const IN_THE_TREE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../../ui/src/api/types");

#[test]
fn the_pages_types_are_up_to_date() -> anyhow::Result<()> {
    let folder = tempfile::tempdir()?;
    bindings::write(folder.path(), ".ts", &bindings::files()?)?;
    let found = bindings::differences(Path::new(IN_THE_TREE), folder.path(), ".ts")?;
    assert!(found.is_empty(), "run `cargo run -p bindings`: {}", found.join("; "));
    Ok(())
}

#[test]
fn a_stale_a_missing_and_a_left_over_file_are_each_named() -> anyhow::Result<()> {
    let good = tempfile::tempdir()?;
    let bad = tempfile::tempdir()?;
    let files = bindings::files()?;
    bindings::write(good.path(), ".ts", &files)?;
    bindings::write(bad.path(), ".ts", &files)?;
    fs::write(bad.path().join("Hit.ts"), "export type Hit = string;\n")?;
    fs::remove_file(bad.path().join("Key.ts"))?;
    fs::write(bad.path().join("Gone.ts"), "export type Gone = string;\n")?;
    let mut found = bindings::differences(bad.path(), good.path(), ".ts")?;
    found.sort();
    assert_eq!(found, ["Gone.ts is left over", "Hit.ts is stale", "Key.ts is missing"]);
    bindings::write(bad.path(), ".ts", &files)?;
    assert!(bindings::differences(bad.path(), good.path(), ".ts")?.is_empty());
    Ok(())
}

#[test]
fn numbers_are_numbers_and_words_are_as_sent() -> anyhow::Result<()> {
    let files = bindings::files()?;
    let text = |name: &str| files.get(name).cloned().unwrap_or_default();
    assert!(text("FieldView.ts").contains("piece: number"));
    assert!(text("Reminder.ts").contains("minutes_left: number"));
    assert!(text("BudgetLine.ts").contains("share: number"));
    assert!(text("Step.ts").contains("\"back_in_service\""));
    assert!(text("CodeOutcome.ts").contains("\"what\": \"not_read\""));
    Ok(())
}
