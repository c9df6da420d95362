//! The views in the tree are those that the core gives today.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;

#[test]
fn the_views_that_are_looked_at_are_up_to_date() -> anyhow::Result<()> {
    let folder = tempfile::tempdir()?;
    bindings::write(folder.path(), ".json", &looks::files()?)?;
    let found = bindings::differences(Path::new(looks::FOLDER), folder.path(), ".json")?;
    assert!(found.is_empty(), "run `cargo run -p looks` and look at what it changed: {}", found.join("; "));
    Ok(())
}

#[test]
fn every_step_every_mounting_and_every_way_a_shift_can_stand_is_looked_at() -> anyhow::Result<()> {
    let mut seen = BTreeSet::new();
    for text in looks::files()?.values() {
        let screen: Value = serde_json::from_str(text)?;
        let word = |path: &str| screen.pointer(path).and_then(Value::as_str).map(str::to_owned);
        seen.extend(["/view/now/step", "/view/now/shift/state", "/at"].iter().filter_map(|path| word(path)));
    }
    let wanted = [
        "find",
        "make_safe",
        "as_found",
        "evidence",
        "shift",
        "as_left",
        "back_in_service",
        "sign",
        "trim",
        "do_not_adjust",
        "not_determined",
        "home",
        "name",
        "pin",
        "confirm",
        "plan",
        "visit",
        "record",
        "register",
    ];
    let missing: Vec<&str> = wanted.into_iter().filter(|word| !seen.contains(*word)).collect();
    assert!(missing.is_empty(), "nobody looks at {missing:?}");
    Ok(())
}
