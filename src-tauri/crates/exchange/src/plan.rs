//! What to ask for, from what both sides hold. Pure: the keeper looks up what [`ends`] names, and [`wanted`] decides.

use std::collections::BTreeMap;

use bodies::HeldRun;
use record::{EntryId, LogId};

use crate::have::HaveSet;
use crate::run::{Runs, Wanted};

/// Returns the entries to look up before deciding: the last one of each run that the other side holds.
#[must_use]
pub fn ends(theirs: &HaveSet) -> Vec<EntryId> {
    let ranges = theirs.0.iter().flat_map(|(log, ranges)| ranges.iter().map(|range| (*log, *range)));
    ranges.map(|(log, range)| EntryId { log, seq: range.to, payload: range.end }).collect()
}

/// Returns what to ask the other side for. `ours` is what is held here of the logs named there, `held` those of
/// [`ends`] that are held here.
///
/// Where a branch turns out to leave ours further down, what is asked for hangs in the air after it came; the gap under
/// it is then asked for in its turn, so that both sides hold the same after as many rounds as there are forks.
#[must_use]
pub fn wanted(theirs: &HaveSet, ours: &BTreeMap<LogId, Runs>, held: &[EntryId]) -> Vec<Wanted> {
    let none = Runs::default();
    let mut wanted = Vec::new();
    for (log, ranges) in &theirs.0 {
        let ours = ours.get(log).unwrap_or(&none);
        for range in ranges {
            let id = EntryId { log: *log, seq: range.to, payload: range.end };
            if !held.contains(&id) {
                let from = ours.begin_for(range.to).max(range.from);
                wanted.push(Wanted { log: *log, from, to: range.to, end: range.end });
            }
        }
        wanted.extend(ours.gaps(*log).into_iter().filter_map(|gap| within(gap, ranges)));
    }
    wanted.sort_unstable();
    wanted.dedup();
    wanted
}

/// A gap as far as the other side may fill it.
fn within(gap: Wanted, ranges: &[HeldRun]) -> Option<Wanted> {
    let range = ranges.iter().find(|range| range.from <= gap.to && gap.to <= range.to)?;
    Some(Wanted { from: gap.from.max(range.from), ..gap })
}
