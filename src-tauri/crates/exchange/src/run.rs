//! What is held of one log, as runs: pieces of its chain without a gap.
//!
//! A count or a highest place would hide what is missing between; a run does not. Its last hash commits to all that
//! stands before it in the chain, so two keepers that hold the same end hold the same run. Two runs may cover one place:
//! that is a fork, and both are held.

use record::{LogId, PayloadHash, Seq};

/// An entry as runs see it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Its place.
    pub seq: Seq,
    /// The payload it names as the one before; none at the first place.
    pub previous: Option<PayloadHash>,
    /// The hash of its own payload.
    pub hash: PayloadHash,
}

/// A piece of one chain, held from its first to its last place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Run {
    /// The first place.
    pub from: Seq,
    /// The last place.
    pub to: Seq,
    /// The hash of the payload at the last place.
    pub end: PayloadHash,
    /// The payload that the first entry names as the one before; none at the first place of a log.
    pub before: Option<PayloadHash>,
    /// Whether that payload is held too, in another run; true at the first place of a log.
    pub rooted: bool,
}

/// All that is held of one log.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Runs(Vec<Run>);

/// Entries that somebody is asked for: the branch that ends with this payload, from a place on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Wanted {
    /// Whose log.
    pub log: LogId,
    /// The first place.
    pub from: Seq,
    /// The last place.
    pub to: Seq,
    /// The hash of the payload at the last place.
    pub end: PayloadHash,
}

impl Wanted {
    /// Returns how many places it spans.
    #[must_use]
    pub fn places(&self) -> u64 {
        self.to.get().saturating_sub(self.from.get()).saturating_add(1)
    }
}

impl Runs {
    /// Takes up runs as they were kept.
    #[must_use]
    pub fn of(mut runs: Vec<Run>) -> Runs {
        runs.sort_unstable();
        Runs(runs)
    }

    /// Returns the runs by their first place.
    #[must_use]
    pub fn all(&self) -> &[Run] {
        &self.0
    }

    /// Takes in an entry that was not held before. `parent_held` says whether the payload it names is held; runs
    /// know that only of their ends.
    pub fn add(&mut self, step: Step, parent_held: bool) {
        let rooted = parent_held || step.seq == Seq::FIRST;
        let mut run = Run { from: step.seq, to: step.seq, end: step.hash, before: step.previous, rooted };
        let ends_before = |held: &Run| held.to.next() == Some(step.seq) && Some(held.end) == step.previous;
        if let Some(at) = self.0.iter().position(ends_before) {
            let lower = self.0.remove(at);
            run = Run { from: lower.from, before: lower.before, rooted: lower.rooted, ..run };
        }
        let begins_after = |held: &Run| Some(held.from) == step.seq.next() && held.before == Some(step.hash);
        if let Some(at) = self.0.iter().position(begins_after) {
            let upper = self.0.remove(at);
            run = Run { to: upper.to, end: upper.end, ..run };
        }
        // Of a fork right behind this entry one branch was joined to it; the others now have their root.
        self.0.iter_mut().filter(|held| begins_after(held)).for_each(|held| held.rooted = true);
        let at = self.0.partition_point(|held| *held < run);
        self.0.insert(at, run);
    }

    /// Returns what is missing under the runs that hang in the air.
    #[must_use]
    pub fn gaps(&self, log: LogId) -> Vec<Wanted> {
        let hanging = self.0.iter().filter(|run| !run.rooted);
        hanging
            .filter_map(|run| {
                let to = Seq::new(run.from.get().checked_sub(1)?)?;
                Some(Wanted { log, from: self.begin_for(to), to, end: run.before? })
            })
            .collect()
    }

    /// Returns the place from which to ask for a branch that ends at a place: after the highest one held below it.
    /// Where the place itself is held with another payload, nobody knows where the branches part: from the start.
    pub(crate) fn begin_for(&self, to: Seq) -> Seq {
        if self.0.iter().any(|run| run.from <= to && to <= run.to) {
            return Seq::FIRST;
        }
        let below = self.0.iter().map(|run| run.to).filter(|held| *held < to).max();
        below.and_then(Seq::next).unwrap_or(Seq::FIRST)
    }

    /// Returns whether two payloads are held at one place.
    #[must_use]
    pub fn has_fork(&self) -> bool {
        let reached = self.0.iter().scan(None, |reach: &mut Option<Seq>, run| {
            let before = *reach;
            *reach = before.max(Some(run.to));
            Some(before >= Some(run.from))
        });
        reached.into_iter().any(|forked| forked)
    }

    /// Returns where a forked log parts: the lowest place of which two payloads are known, held or named as the one
    /// before. Below it there is one branch; none of a log without a fork.
    #[must_use]
    pub fn parting(&self) -> Option<Seq> {
        let (mut forked, mut lowest): (bool, Option<Seq>) = (false, None);
        // How far the runs before this one reach, and of them those that begin below it.
        let (mut reach, mut below, mut from): (Option<Seq>, Option<Seq>, Option<Seq>) = (None, None, None);
        // What the first of those that begin at one place names as the one before it.
        let mut before = None;
        for run in &self.0 {
            if from != Some(run.from) {
                (below, from, before) = (reach, Some(run.from), run.before);
            }
            forked |= reach >= from;
            // What hangs in the air above a place that is held names another payload there, and so do two that begin at
            // one place and name two.
            let hangs = |named: &Seq| !run.rooted && below >= Some(*named);
            let named = Seq::new(run.from.get() - 1).filter(|named| hangs(named) || run.before != before);
            let parts = named.or(from.filter(|_| reach >= from));
            lowest = [lowest, parts].into_iter().flatten().min();
            reach = reach.max(Some(run.to));
        }
        lowest.filter(|_| forked)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    const LOG: LogId = LogId([1; 32]);

    fn seq(number: u64) -> Seq {
        Seq::new(number).unwrap()
    }

    fn hash(branch: u8, place: u64) -> PayloadHash {
        PayloadHash::of(&[branch, u8::try_from(place).unwrap()])
    }

    /// Branch 0 is the log; branch 1 leaves it after place 3.
    fn step(branch: u8, place: u64) -> Step {
        let on = |place: u64| if place <= 3 { 0 } else { branch };
        let previous = (place > 1).then(|| hash(on(place - 1), place - 1));
        Step { seq: seq(place), previous, hash: hash(on(place), place) }
    }

    type Ids = BTreeSet<(u64, PayloadHash)>;

    /// The same by going over all that is held: what is there, and which parents are not.
    fn naive(held: &[Step]) -> (Ids, Ids) {
        let ids: BTreeSet<_> = held.iter().map(|step| (step.seq.get(), step.hash)).collect();
        let lacking = held.iter().filter_map(|step| {
            let parent = (step.seq.get() - 1, step.previous?);
            (!ids.contains(&parent)).then_some(parent)
        });
        (ids.clone(), lacking.collect())
    }

    proptest! {
        #[test]
        fn whatever_the_order_the_gaps_are_those_that_are_there(
            picks in proptest::collection::vec((0u8..2, 1u64..12), 0..40)
        ) {
            let mut runs = Runs::default();
            let mut held: Vec<Step> = Vec::new();
            for (branch, place) in picks {
                let step = step(branch, place);
                if held.contains(&step) {
                    continue;
                }
                let parent = step.previous.map(|hash| (place - 1, hash));
                let parent_held = held.iter().any(|held| Some((held.seq.get(), held.hash)) == parent);
                runs.add(step, parent_held);
                held.push(step);
            }
            let (ids, lacking) = naive(&held);
            let places: u64 = runs.all().iter().map(|run| run.to.get() - run.from.get() + 1).sum();
            prop_assert_eq!(places, ids.len() as u64);
            let gaps: BTreeSet<_> = runs.gaps(LOG).iter().map(|gap| (gap.to.get(), gap.end)).collect();
            prop_assert_eq!(gaps, lacking);
            for run in runs.all() {
                prop_assert!(ids.contains(&(run.to.get(), run.end)));
            }
            let forked = (1..12).any(|place| ids.iter().filter(|id| id.0 == place).count() > 1);
            prop_assert_eq!(runs.has_fork(), forked);
            let mut known = ids.clone();
            known.extend(held.iter().filter_map(|step| Some((step.seq.get() - 1, step.previous?))));
            let parts = (1..12).find(|place| known.iter().filter(|id| id.0 == *place).count() > 1);
            prop_assert_eq!(runs.parting().map(Seq::get), parts.filter(|_| forked));
        }
    }

    #[test]
    fn a_gap_is_asked_for_from_what_is_held_below() {
        let mut runs = Runs::default();
        for place in [1, 2, 6] {
            runs.add(step(0, place), place == 2);
        }
        let gap = Wanted { log: LOG, from: seq(3), to: seq(5), end: hash(0, 5) };
        assert_eq!(runs.gaps(LOG), [gap]);
    }

    #[test]
    fn a_forked_log_parts_at_the_lowest_place_of_which_two_payloads_are_known() {
        let mut runs = Runs::default();
        for place in 1..=6 {
            runs.add(step(0, place), true);
        }
        assert_eq!(runs.parting(), None);
        runs.add(step(1, 6), false);
        assert_eq!(runs.parting(), Some(seq(5)), "it names another one before it");
        runs.add(step(1, 4), true);
        assert_eq!(runs.parting(), Some(seq(4)));
        runs.add(step(1, 5), true);
        assert_eq!(runs.parting(), Some(seq(4)));
    }

    #[test]
    fn a_forked_log_parts_where_two_that_hang_in_the_air_name_two_others() {
        let mut runs = Runs::default();
        runs.add(step(0, 11), false);
        runs.add(step(1, 11), false);
        assert_eq!(
            runs.parting(),
            Some(seq(10)),
            "nothing is held at place 10, and two payloads of it are known"
        );
        runs.add(step(0, 10), false);
        assert_eq!(runs.parting(), Some(seq(10)));
    }

    #[test]
    fn a_branch_that_parts_below_is_asked_for_from_the_start() {
        let mut runs = Runs::default();
        for place in 1..=6 {
            runs.add(step(0, place), true);
        }
        runs.add(step(1, 6), false);
        assert_eq!(runs.gaps(LOG), [Wanted { log: LOG, from: seq(1), to: seq(5), end: hash(1, 5) }]);
    }
}
