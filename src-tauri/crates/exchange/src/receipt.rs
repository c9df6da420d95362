//! What a receipt proves.
//!
//! A receipt is the one thing that may say "received". It counts as far as its hashes are ours: the hash at a run's end
//! commits to all of the run, so a hub that holds another branch, or a phone that was restored, proves nothing by it.

use std::collections::BTreeMap;

use bodies::{HeldRun, RECEIPT_RUNS, Receipt};
use record::{PayloadHash, Seq};

use crate::have;
use crate::run::Runs;

/// Returns the runs that a receipt names of what is held of a log: all of them, or of more than [`RECEIPT_RUNS`] those
/// that hold the most entries, and of equals the lower ones. What is left out counts as not received yet, and comes in
/// once the gaps around it are filled and its run is joined to others.
#[must_use]
pub fn runs(held: &Runs) -> Vec<HeldRun> {
    let mut runs = have::held(held);
    if runs.len() > RECEIPT_RUNS {
        let entries = |run: &HeldRun| run.to.get().saturating_sub(run.from.get());
        runs.sort_by_key(|run| std::cmp::Reverse(entries(run)));
        runs.truncate(RECEIPT_RUNS);
        runs.sort_unstable();
    }
    runs
}

/// Returns the runs of a receipt that are held here too. `holds` says whether the payload at a place is held.
pub fn proven(receipt: &Receipt, mut holds: impl FnMut(Seq, PayloadHash) -> bool) -> Vec<HeldRun> {
    receipt.runs.iter().copied().filter(|run| holds(run.to, run.end)).collect()
}

/// Returns whether a receipt says more than the newest one of its grade, so that it is worth an entry: of another epoch, a
/// photo more, or entries more.
#[must_use]
pub fn says_more(before: Option<&Receipt>, now: &Receipt) -> bool {
    let Some(before) = before else { return !now.runs.is_empty() };
    now.epoch != before.epoch || !now.photos.is_subset(&before.photos) || covers_more(&before.runs, &now.runs)
}

/// Runs only grow and join, so more is held exactly where an end is new that no longer run had already passed.
fn covers_more(before: &[HeldRun], now: &[HeldRun]) -> bool {
    let ends: BTreeMap<_, _> = before.iter().map(|run| ((run.to, run.end), run.from)).collect();
    now.iter().any(|run| ends.get(&(run.to, run.end)).is_none_or(|from| run.from < *from))
}

#[cfg(test)]
mod tests {
    use bodies::{Epoch, Grade, PhotoHash, RECEIPT_PHOTOS};
    use record::LogId;

    use super::*;
    use crate::run::Run;

    fn seq(number: u64) -> Seq {
        Seq::new(number).unwrap()
    }

    fn run(from: u64, to: u64) -> Run {
        let mut end = [0; 32];
        end[..8].copy_from_slice(&to.to_be_bytes());
        Run { from: seq(from), to: seq(to), end: PayloadHash(end), before: None, rooted: false }
    }

    /// Single entries at the far end of a log, and pieces of two places among them.
    fn many(singles: u64, pairs: u64) -> Runs {
        let far = u64::from(u32::MAX) * 4;
        let single = (0..singles).map(|at| run(far + 10 * at, far + 10 * at));
        let pair = (0..pairs).map(|at| run(far + 10 * at + 5, far + 10 * at + 6));
        Runs::of(single.chain(pair).collect())
    }

    #[test]
    fn of_a_log_full_of_gaps_the_longest_runs_are_named_and_of_equals_the_lower() {
        assert_eq!(runs(&many(2_000, 0)).len(), 2_000);
        let named = runs(&many(6_000, 500));
        assert_eq!((named.len(), named.is_sorted()), (RECEIPT_RUNS, true));
        let singles: Vec<_> = named.iter().filter(|run| run.from == run.to).collect();
        assert_eq!(singles.len(), 1_500, "all 500 pairs are named");
        let all = have::held(&many(6_000, 500));
        let lowest: Vec<_> = all.iter().filter(|run| run.from == run.to).take(1_500).collect();
        assert_eq!(singles, lowest);
    }

    #[test]
    fn the_largest_receipt_fits_an_entry() {
        let photo = |at: usize| {
            let mut hash = [0xff; 32];
            hash[..8].copy_from_slice(&(at as u64).to_be_bytes());
            PhotoHash(hash)
        };
        let receipt = Receipt {
            epoch: Some(Epoch([0xff; 16])),
            log: LogId([0xff; 32]),
            runs: runs(&many(20_000, 0)),
            photos: (0..RECEIPT_PHOTOS).map(photo).collect(),
            grade: Grade::BackedUp,
        };
        let body = receipt.encode().unwrap();
        assert_eq!(Receipt::decode(1, &body).unwrap(), receipt);
        let uncapped = Receipt { runs: have::held(&many(20_000, 0)), ..receipt };
        assert!(matches!(uncapped.encode(), Err(bodies::Error::TooLong { .. })));
    }
}
