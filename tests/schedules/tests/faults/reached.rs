//! What schedules came to. Schedules that hold whatever happens are worth something only where it does happen.

use std::collections::{BTreeMap, BTreeSet};

/// What one schedule came to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Reached(BTreeSet<&'static str>);

/// What very many schedules must come to, each of these at least once in a thousand.
const RARE: [&str; 14] = [
    "a late push taken",
    "an answer cut",
    "pushes of two phones between each other's questions",
    "the register changed during a session",
    "a backup made during a session",
    "a phone revoked during its session",
    "the hub stopped during a push",
    "the hub full during a push",
    "the hub restored after photos were freed",
    "the hub restored to before what it had received",
    "a phone that lost what it had passed on",
    "entries that came before their phone was certified",
    "a forked log",
    "an entry of a forked or revoked log that was adopted",
];

impl Reached {
    pub fn note(&mut self, what: &'static str) {
        assert!(RARE.contains(&what), "{what} stands on no list");
        self.0.insert(what);
    }
}

/// How many schedules came to what.
#[derive(Default)]
pub struct Tally(BTreeMap<&'static str, u64>);

impl Tally {
    pub fn add(&mut self, reached: &Reached) {
        reached.0.iter().for_each(|what| *self.0.entry(what).or_default() += 1);
    }

    /// Prints it; where `count` schedules are many, each of the list must have come.
    pub fn close(&self, count: u64) {
        for what in RARE {
            let times = self.0.get(what).copied().unwrap_or(0);
            println!("  {times:>7}  {what}");
            assert!(count < 10_000 || times >= count / 1_000, "{what}: in {times} of {count} schedules");
        }
    }
}
