//! The list of visits on the command line: whether each counts, and what working it out again found.

use bodies::{HubRole, LastTrusted, PersonId};
use domain::visit::MODEL;
use hub::deciding::revoke;
use hub::names::entry_name;
use hub::recompute::work_off;

use crate::phone::Phone;
use crate::visit::{finished, sign};
use crate::world::World;

/// Five visits: honest, with one number changed before it was signed, by an older model, by a newer one, and changed again.
fn five() -> Phone {
    let mut phone = Phone::with(1, 0);
    let mut changed = finished();
    let line = changed.results.iter_mut().find(|line| line.key == domain::visit::ResultKey::Shift).unwrap();
    line.value.value.mantissa += 10_i64.pow(4);
    let (mut older, mut newer) = (finished(), finished());
    (older.model, newer.model) = (MODEL - 1, MODEL + 1);
    for visit in [finished(), changed.clone(), older, newer, changed] {
        sign(&mut phone, visit);
    }
    phone
}

#[tokio::test]
async fn each_line_says_whether_the_visit_counts_and_what_was_found() {
    let (world, phone) = (World::new().await, five());
    world.person("Ada", HubRole::Supervise).await;
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let names: Vec<String> = phone.entries.iter().map(|entry| entry_name(&entry.id)).collect();
    // The line of a visit's name, and the one below.
    let lines = |said: &str, place: usize| -> [String; 2] {
        let mut lines = said.lines().skip_while(|line| !line.contains(&names[place - 1]));
        [lines.next(), lines.next()]
            .map(|line| line.unwrap_or_else(|| panic!("{place}: {said}")).trim().to_owned())
    };
    let before = world.says(&["visits"]);
    assert_eq!(lines(&before, 1)[1], "counts; not worked out again yet");
    assert!(before.contains("5 visits wait to be worked out again"), "{before}");
    assert!(!world.says(&["status"]).contains("--differs"));
    work_off(&world.hub.store, &world.clock).await.unwrap();
    let last = phone.entries[3].id;
    let last = LastTrusted { seq: last.seq, payload: last.payload };
    revoke(&world.hub, phone.log(), Some(last), "lost", PersonId([5; 16])).await.unwrap();

    let said = world.says(&["visits"]);
    assert!(lines(&said, 1)[0].ends_with("to be looked at"), "{said}");
    assert_eq!(lines(&said, 1)[1], "counts; worked out again, and agrees");
    assert!(lines(&said, 2)[1].starts_with("counts; CAME OUT OTHERWISE: Shift: signed "), "{said}");
    assert!(lines(&said, 3)[1].starts_with("counts; not checked: worked out by model "), "{said}");
    assert!(
        lines(&said, 4)[1].starts_with("counts; NOT CHECKED: made by a newer app: update the hub"),
        "{said}"
    );
    assert!(lines(&said, 5)[0].ends_with("cannot be approved before it counts"), "{said}");
    let revoked =
        "counts in nothing: signed after its phone was revoked, or on another branch; CAME OUT OTHERWISE: ";
    assert!(lines(&said, 5)[1].starts_with(revoked), "{said}");

    let differs = |more: &[&str]| world.says(&[&["visits", "--differs"], more].concat());
    let shown = |said: &str| -> Vec<usize> {
        (1..=5).rev().filter(|place| said.contains(&names[place - 1])).collect()
    };
    assert_eq!(shown(&differs(&[])), [5, 2]);
    assert_eq!(shown(&differs(&["--most", "1"])), [5]);
    assert_eq!(shown(&differs(&["--tag", "LT-2041"])), [5, 2]);
    assert_eq!(shown(&differs(&["--tag", "LT-1"])), [] as [usize; 0]);
    assert!(world.says(&["status"]).contains("`headmark-hub visits --differs`"));
}
