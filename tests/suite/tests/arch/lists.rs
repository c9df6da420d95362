//! Every member stands in one of two lists: those that a bare `cargo test` takes in, and those left out by
//! name because they need a webview toolkit or a hub that was built before. A new crate that stands in neither would never be tested.

use crate::house::{Member, Members, members};

/// Left out of `default-members`, by name.
const LEFT_OUT: [&str; 4] = ["carried", "demo", "headmark", "journeys"];

fn breaches(members: &Members) -> Vec<String> {
    let mut found = Vec::new();
    for (name, member) in members {
        match (member.by_default, LEFT_OUT.contains(&name.as_str())) {
            (true, true) => {
                found.push(format!("{name} needs what a bare machine has not and is a default member"))
            }
            (false, false) => found.push(format!("{name} is in neither list: add it to default-members")),
            _ => {}
        }
    }
    let gone = LEFT_OUT.iter().filter(|name| !members.contains_key(**name));
    found.extend(gone.map(|name| format!("{name} is left out by name and is no member")));
    found
}

#[test]
fn every_member_is_in_one_of_the_two_lists() {
    assert_eq!(breaches(&members()), Vec::<String>::new());
}

#[test]
fn a_member_in_neither_list_or_in_both_is_found() {
    let mut house = members();
    house.insert("attic".to_owned(), Member::default());
    house.get_mut("headmark").unwrap().by_default = true;
    house.remove("demo");
    assert_eq!(
        breaches(&house),
        [
            "attic is in neither list: add it to default-members",
            "headmark needs what a bare machine has not and is a default member",
            "demo is left out by name and is no member",
        ]
    );
}
