//! How large a code comes out, against published sizes (`reference/code.json`).

use serde_json::Value;
use tagcode::{Code, Strength};

fn group(name: &str, count: usize) -> Vec<Value> {
    let all: Value = serde_json::from_str(include_str!("../../reference/code.json")).unwrap();
    let entries = all["entries"].as_array().unwrap().iter();
    let found: Vec<Value> = entries.filter(|entry| entry["group"] == name).cloned().collect();
    assert_eq!(found.len(), count, "entries of {name}");
    found
}

fn named<'a>(entry: &'a Value, list: &str, name: &str) -> &'a Value {
    let row = entry[list].as_array().unwrap().iter().find(|row| row["name"] == name);
    &row.unwrap()["value"]
}

fn strength(level: &str) -> Strength {
    match level {
        "L" => Strength::Low,
        "M" => Strength::Medium,
        "Q" => Strength::Quarter,
        "H" => Strength::High,
        other => unreachable!("{other}"),
    }
}

/// The width in millimetres that an SVG states for itself.
fn width(svg: &str) -> f64 {
    let (_, after) = svg.split_once("width=\"").unwrap();
    after.split_once("mm\"").unwrap().0.parse().unwrap()
}

#[test]
fn a_code_is_as_small_as_its_text_and_strength_allow() {
    for entry in group("symbol", 4) {
        let input = |name| named(&entry, "inputs", name);
        let expected = |name| named(&entry, "expected", name);
        let code =
            Code::of(input("text").as_str().unwrap(), strength(input("level").as_str().unwrap())).unwrap();
        let modules = u64::try_from(code.side()).unwrap();
        assert_eq!(Some(modules), expected("modules").as_u64(), "{}", entry["quantity"]);
        // Version 1 has 21 modules a side, and each version four more than the one before.
        assert_eq!(Some((modules - 17) / 4), expected("version").as_u64(), "{}", entry["quantity"]);
        let (seen, side) =
            (width(&code.svg(input("module").as_f64().unwrap())), expected("side_with_quiet_zone"));
        assert!(
            (seen - side.as_f64().unwrap()).abs() < 1e-9,
            "{seen} mm, expected {side}: {}",
            entry["quantity"]
        );
    }
}

/// What a strength can mend is the standard's promise and not asked here; photographs of worn labels show what is read.
#[test]
fn the_smallest_and_the_largest_code_and_the_quiet_zone() {
    let entry = &group("rules", 1)[0];
    let expected = |name| usize::try_from(named(entry, "expected", name).as_u64().unwrap()).unwrap();
    let smallest = Code::of("A", Strength::High).unwrap();
    assert_eq!(smallest.side(), expected("modules_v1"));
    // Version 40 holds 2953 bytes at the lowest strength, and version 39 does not.
    assert_eq!(Code::of(&"a".repeat(2953), Strength::Low).unwrap().side(), expected("modules_v40"));
    let picture = smallest.bitmap(1);
    assert_eq!(picture.width(), smallest.side() + 2 * expected("quiet_zone"));
}
