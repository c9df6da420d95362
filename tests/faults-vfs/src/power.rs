//! The power goes at any operation of a day that was played.

use crate::chance::Chance;
use crate::cut::Storage;
use crate::disk::{Files, Op};
use crate::glue::Mounted;

/// What is opened on what a cut left.
pub trait Wakes {
    /// Returns the storage it opens on.
    fn mounted(&self) -> &Mounted;

    /// Opens it on these files and compares: what was acknowledged is there, at most the deed under way besides, and it goes
    /// on working. Once it is open it acknowledges 0, so that its opening is told from what it writes after.
    ///
    /// # Errors
    ///
    /// What is wrong.
    fn compare(&self, files: Files, acknowledged: usize) -> Result<(), String>;
}

/// Cuts the power after every operation, with several tosses each; returns what was found wrong.
pub fn cut_everywhere(machine: &impl Wakes, ops: &[Op], tosses: u64) -> Vec<String> {
    let mut wrong = Vec::new();
    along(ops, |place, storage, acknowledged| {
        for toss in 0..tosses {
            let mut chance = Chance::from(place * 1_000 + toss);
            let left = storage.survivors(&mut chance);
            if let Err(what) = wake(machine, left, acknowledged, &mut chance) {
                wrong.push(format!("after operation {place}, toss {toss}: {what}"));
            }
        }
    });
    wrong
}

/// Ends the process after every operation: it leaves all its writes to the system, so nothing is dropped. Returns what was
/// found wrong, and the last deed that was acknowledged.
pub fn end_everywhere(machine: &impl Wakes, ops: &[Op]) -> (Vec<String>, usize) {
    let (mut wrong, mut last) = (Vec::new(), 0);
    along(ops, |place, storage, acknowledged| {
        last = acknowledged;
        if let Err(what) = machine.compare(storage.as_written(), acknowledged) {
            wrong.push(format!("after operation {place}: {what}"));
        }
    });
    (wrong, last)
}

/// Follows the operations, from the first on, with the deeds acknowledged so far.
fn along(ops: &[Op], mut at: impl FnMut(u64, &Storage, usize)) {
    let mut storage = Storage::holding(&Files::new());
    let mut acknowledged = 0;
    for (place, op) in (1_u64..).zip(ops) {
        storage.follow(op);
        if let Op::Acknowledged(number) = op {
            acknowledged = whole(*number);
        }
        at(place, &storage, acknowledged);
    }
}

/// Opens on what was left, now and then after a second cut, and compares.
fn wake(machine: &impl Wakes, left: Files, acknowledged: usize, chance: &mut Chance) -> Result<(), String> {
    if !chance.percent(25) {
        return machine.compare(left, acknowledged);
    }
    machine.compare(left.clone(), acknowledged)?;
    let ops = machine.mounted().disk().ops().to_vec();
    let mut storage = Storage::holding(&left);
    // Up to the first thing that `compare` itself writes, its opening is all there is.
    let opening = ops.iter().position(|op| matches!(op, Op::Acknowledged(_))).unwrap_or(ops.len());
    let upto = whole(chance.below(opening as u64 + 1));
    ops.iter().take(upto).for_each(|op| storage.follow(op));
    machine.compare(storage.survivors(chance), acknowledged).map_err(|what| format!("cut again: {what}"))
}

fn whole(number: u64) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}
