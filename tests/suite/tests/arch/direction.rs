//! Who may know whom. Dependencies between our own crates point one way, the shell alone knows the webview
//! toolkit, and the two stores alone know a database, apart from tests that break or read one.

use std::collections::BTreeSet;

use crate::house::{Member, Members, members};

/// What each member may know of ours. A member that is missing here may know nothing and is a breach itself.
const MAY_KNOW: [(&str, &[&str]); 22] = [
    ("domain", &[]),
    ("tagcode", &[]),
    ("record", &[]),
    ("bodies", &["domain", "record"]),
    ("exchange", &["bodies", "record"]),
    ("store", &["bodies", "domain", "exchange", "record"]),
    ("field", &["bodies", "domain", "exchange", "record", "store", "tagcode"]),
    // Its tests open a whole phone.
    ("keystore", &["domain", "field", "kit"]),
    ("carry", &["exchange", "record"]),
    ("hubstore", &["bodies", "domain", "exchange", "record"]),
    ("hub", &["bodies", "domain", "exchange", "hubstore", "record", "tagcode"]),
    // Its tests take the office of the kit.
    ("headmark", &["carry", "exchange", "field", "keystore", "kit", "record"]),
    ("bindings", &["field"]),
    ("faults-vfs", &[]),
    ("camera", &["tagcode"]),
    ("kit", &["bodies", "camera", "domain", "exchange", "field", "record", "store", "tagcode"]),
    ("looks", &["bindings", "bodies", "domain", "field", "kit"]),
    (
        "suite",
        &[
            "bodies",
            "camera",
            "domain",
            "exchange",
            "faults-vfs",
            "field",
            "hubstore",
            "kit",
            "record",
            "store",
            "tagcode",
        ],
    ),
    (
        "schedules",
        &["bodies", "domain", "exchange", "faults-vfs", "field", "hub", "hubstore", "record", "store"],
    ),
    ("carried", &["bodies", "carry", "domain", "exchange", "field", "kit", "record", "store"]),
    ("journeys", &["domain", "kit"]),
    ("demo", &["domain", "journeys", "kit"]),
];

/// Crates that only some may name. The fault tests put a disk of their own under SQLite, and the tests of the hub as a
/// process look into its file, so they need it too. The bridge to Java is the key store's: the shell hands it the machine
/// without naming it.
const KEPT_TO: [(&str, &[&str]); 3] = [
    ("jni", &["keystore"]),
    ("tauri", &["headmark"]),
    ("rusqlite", &["store", "hubstore", "faults-vfs", "suite", "carried"]),
];

fn breaches(house: &Members) -> Vec<String> {
    let mut found = Vec::new();
    for (name, member) in house {
        let Some((_, may)) = MAY_KNOW.iter().find(|(known, _)| known == name) else {
            found.push(format!("{name} has no place in the table of who may know whom"));
            continue;
        };
        let all: BTreeSet<_> = member.needs.union(&member.tests_need).cloned().collect();
        let ours = all.iter().filter(|other| house.contains_key(*other));
        let not_allowed = ours.filter(|other| !may.contains(&other.as_str()));
        found.extend(not_allowed.map(|other| format!("{name} may not know {other}")));
        for (kept, holders) in KEPT_TO {
            let names_it = all.iter().any(|other| other == kept || other.starts_with(&format!("{kept}-")));
            if names_it && !holders.contains(&name.as_str()) {
                found.push(format!("{name} may not name {kept}"));
            }
        }
    }
    found
}

/// A direction is one only if the table has no circle.
fn circle(table: &[(&str, &[&str])]) -> Option<String> {
    let mut settled = BTreeSet::new();
    loop {
        let ready = |(name, knows): &&(&str, &[&str])| {
            !settled.contains(name) && knows.iter().all(|other| settled.contains(other))
        };
        let Some((name, _)) = table.iter().find(ready) else { break };
        settled.insert(*name);
    }
    table.iter().map(|(name, _)| *name).find(|name| !settled.contains(name)).map(str::to_owned)
}

#[test]
fn dependencies_point_one_way() {
    assert_eq!(circle(&MAY_KNOW), None);
    assert_eq!(breaches(&members()), Vec::<String>::new());
}

#[test]
fn a_step_against_the_direction_is_found() {
    let mut house = members();
    house.get_mut("domain").unwrap().needs.insert("store".to_owned());
    house.get_mut("record").unwrap().tests_need.insert("domain".to_owned());
    house.get_mut("field").unwrap().needs.insert("rusqlite".to_owned());
    house.get_mut("headmark").unwrap().needs.insert("jni".to_owned());
    house.get_mut("kit").unwrap().needs.insert("tauri-build".to_owned());
    house.insert("attic".to_owned(), Member::default());
    assert_eq!(
        breaches(&house),
        [
            "attic has no place in the table of who may know whom",
            "domain may not know store",
            "field may not name rusqlite",
            "headmark may not name jni",
            "kit may not name tauri",
            "record may not know domain",
        ]
    );
}

#[test]
fn a_circle_is_found() {
    let table: [(&str, &[&str]); 3] = [("a", &[]), ("b", &["c"]), ("c", &["a", "b"])];
    assert_eq!(circle(&table), Some("b".to_owned()));
}
