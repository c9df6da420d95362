//! What this phone says that it holds, within what a hub listens to.
//!
//! A hub refuses a question that names more than 20,000 runs, and anyone can make keys and sign logs full of gaps with
//! them. So what strangers brought never fills the question up: this phone's own logs are said whole, and of others' so
//! many runs. Where they hold more, each turn begins with another log, so that all of them are said some time; what no
//! turn says goes on in bundles.

use std::collections::BTreeMap;

use exchange::have::{HaveSet, held};
use exchange::run::Runs;

use crate::LogId;

/// The most runs that are said of a kind of logs, and of one log among them.
struct Share {
    all: usize,
    of_log: usize,
}

/// Others' logs that somebody vouched for.
const OTHERS: Share = Share { all: 6_000, of_log: 2_000 };
/// Logs that nobody vouched for yet.
const PARKED: Share = Share { all: 1_000, of_log: 50 };

/// What is held of all logs but the hub's.
pub(crate) struct Holding {
    pub(crate) own: BTreeMap<LogId, Runs>,
    pub(crate) others: BTreeMap<LogId, Runs>,
    pub(crate) parked: BTreeMap<LogId, Runs>,
}

/// Returns what is said. The turn is a number that changes as the exchange goes on.
pub(crate) fn said(holding: &Holding, turn: u64) -> HaveSet {
    let mut have = HaveSet::default();
    holding.own.iter().for_each(|(log, runs)| have.put(log.of_record(), runs));
    OTHERS.say(&mut have, &holding.others, turn);
    PARKED.say(&mut have, &holding.parked, turn);
    have
}

impl Share {
    fn say(&self, have: &mut HaveSet, logs: &BTreeMap<LogId, Runs>, turn: u64) {
        let most_of = |runs: &Runs| runs.all().len().min(self.of_log);
        let all: usize = logs.values().map(most_of).sum();
        let begin = usize::try_from(turn).unwrap_or(0) % logs.len().max(1);
        let begin = if all <= self.all { 0 } else { begin };
        let mut room = self.all;
        for (log, runs) in logs.iter().cycle().skip(begin).take(logs.len()) {
            let mut said = held(runs);
            said.truncate(most_of(runs).min(room));
            room -= said.len();
            if !said.is_empty() {
                have.0.insert(log.of_record(), said);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use exchange::run::Run;
    use record::PayloadHash;

    use super::*;

    fn seq(number: u64) -> record::Seq {
        record::Seq::new(number).unwrap()
    }

    fn log(number: u64) -> LogId {
        let mut log = [0; 32];
        log[..8].copy_from_slice(&number.to_be_bytes());
        LogId(log)
    }

    /// A log of single entries with a gap after each.
    fn gapped(runs: u64) -> Runs {
        let run = |at: u64| Run {
            from: seq(2 * at),
            to: seq(2 * at),
            end: PayloadHash([u8::try_from(at % 251).unwrap(); 32]),
            before: Some(PayloadHash([0; 32])),
            rooted: false,
        };
        Runs::of((1..=runs).map(run).collect())
    }

    fn logs(numbers: std::ops::Range<u64>, runs: u64) -> BTreeMap<LogId, Runs> {
        numbers.map(|number| (log(number), gapped(runs))).collect()
    }

    fn runs(have: &HaveSet) -> usize {
        have.0.values().map(Vec::len).sum()
    }

    #[test]
    fn strangers_never_keep_this_phones_own_logs_out_of_the_question() {
        let own = BTreeMap::from([(log(u64::MAX), gapped(3))]);
        let holding = Holding { own, others: logs(0..30_000, 1), parked: logs(30_000..60_000, 7) };
        let have = said(&holding, 0);
        assert_eq!(have.0.get(&log(u64::MAX).of_record()).map(Vec::len), Some(3));
        assert_eq!(runs(&have), 3 + 6_000 + 1_000);
    }

    #[test]
    fn one_log_full_of_gaps_leaves_room_for_the_others() {
        let mut parked = logs(0..1, 20_001);
        parked.insert(log(9), gapped(1));
        let have = said(&Holding { own: BTreeMap::new(), others: BTreeMap::new(), parked }, 0);
        let said: Vec<usize> = have.0.values().map(Vec::len).collect();
        assert_eq!(said, [50, 1]);
    }

    #[test]
    fn what_does_not_fit_has_its_turn_later_and_what_fits_is_said_every_time() {
        let holding = Holding { own: BTreeMap::new(), others: logs(0..10, 3), parked: logs(10..1_510, 1) };
        let mut all = BTreeSet::new();
        for turn in [0, 700, 1_400] {
            let have = said(&holding, turn);
            assert_eq!(runs(&have), 30 + 1_000, "turn {turn}");
            all.extend(have.0.into_keys());
        }
        assert_eq!(all.len(), 1_510);
    }
}
