//! Ten thousand honest visits.

use std::collections::BTreeMap;

use domain::visit::assess;

use crate::chance::Chance;
use crate::story::{KINDS, Story, Wrong};
use crate::write::write;

const VISITS: u32 = 10_000;

#[test]
fn honest_visits_are_hardly_ever_suspected() {
    let mut alarms: BTreeMap<&str, u32> = BTreeMap::new();
    let (mut alarmed, mut undetermined) = (0, 0);
    for seed in 0..VISITS {
        let mut chance = Chance::new(u64::from(seed) + 1);
        let kind = chance.one_of(&KINDS);
        let story = Story::of(kind, Wrong::default(), &mut chance);
        let seen = assess(&write(&story)).unwrap();
        undetermined += u32::from(seen.shift.result.is_none());
        alarmed += u32::from(!seen.slips.is_empty());
        for slip in &seen.slips {
            *alarms.entry(slip.doubt.code()).or_default() += 1;
        }
        if std::env::var("SHOW").is_ok() && !seen.slips.is_empty() {
            println!("{seed} {kind:?} {:?} {:?}", story.offset, seen.slips[0]);
        }
        if std::env::var("SHOW").is_ok() && seen.shift.result.is_none() && undetermined < 5 {
            println!("{seed} {kind:?} {:?} {:?}", story.offset, seen.shift.remarks);
        }
    }
    println!(
        "{VISITS} honest visits (seeds 1 to {VISITS}): {alarmed} alarmed {alarms:?}, {undetermined} without a shift"
    );
    assert!(alarmed * 100 <= VISITS, "{alarmed} of {VISITS} honest visits were suspected");
}
