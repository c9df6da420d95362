//! What becomes of each entry of a batch.

use std::collections::{BTreeMap, BTreeSet};

use exchange::run::{Runs, Step};
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::{Arrival, Batch, Error, NewEntry, NewLog, Outcome, PARKED_BESIDE, ParkingLimits, Refusal};

/// What has to be known to decide.
#[derive(Debug, Default)]
pub(crate) struct Facts {
    /// Logs of the batch that somebody vouches for.
    pub(crate) known: BTreeSet<LogId>,
    /// What is held of the logs.
    pub(crate) runs: BTreeMap<LogId, Runs>,
    /// What stands at the places that [`places_to_look_up`] asked for.
    pub(crate) held: BTreeMap<(LogId, Seq), BTreeSet<PayloadHash>>,
    /// Entries of the batch that are parked already.
    pub(crate) parked: BTreeSet<EntryId>,
    /// How many entries of each unknown log are parked.
    pub(crate) parked_of_log: BTreeMap<LogId, u64>,
    /// How many bytes of what the carrier brought are parked.
    pub(crate) carried: u64,
    /// How many bytes are parked in all, each entry with what it takes beside them.
    pub(crate) parked_in_all: u64,
    /// What was parked of logs that become known.
    pub(crate) adopted: Vec<NewEntry>,
    /// The newest number.
    pub(crate) newest: Arrival,
}

/// An entry with its number.
#[derive(Debug)]
pub(crate) struct Placed {
    pub(crate) arrival: Arrival,
    pub(crate) entry: NewEntry,
}

/// What has to be written.
#[derive(Debug, Default)]
pub(crate) struct Plan {
    pub(crate) placed: Vec<Placed>,
    pub(crate) parked: Vec<NewEntry>,
    pub(crate) outcomes: Vec<Outcome>,
    pub(crate) adopted: Vec<EntryId>,
    /// Places that have turned out to be forked.
    pub(crate) forked: BTreeSet<(LogId, Seq)>,
    /// What is held afterwards, of each log that was added to.
    pub(crate) runs: BTreeMap<LogId, Runs>,
    pub(crate) newest: Arrival,
}

/// Returns the places of which somebody has to look what stands there. For a log that only grows there are none: its
/// runs tell, and that is what makes taking in quick.
pub(crate) fn places_to_look_up<'a>(
    runs: &BTreeMap<LogId, Runs>,
    entries: impl Iterator<Item = &'a NewEntry>,
) -> BTreeSet<(LogId, Seq)> {
    let mut places = BTreeSet::new();
    for entry in entries {
        let Some(runs) = runs.get(&entry.id.log) else { continue };
        let covered = |seq: Seq| runs.all().iter().any(|run| run.from <= seq && seq <= run.to);
        let mut look = |seq: Seq, hash: PayloadHash| {
            if covered(seq) && !ends(runs, seq, hash) {
                places.insert((entry.id.log, seq));
            }
        };
        look(entry.id.seq, entry.id.payload);
        if let (Some(seq), Some(previous)) = (before(entry.id.seq), entry.previous) {
            look(seq, previous);
        }
    }
    places
}

fn ends(runs: &Runs, seq: Seq, hash: PayloadHash) -> bool {
    runs.all().iter().any(|run| run.to == seq && run.end == hash)
}

fn before(seq: Seq) -> Option<Seq> {
    Seq::new(seq.get().checked_sub(1)?)
}

/// Decides.
pub(crate) fn decide(entries: Vec<NewEntry>, parking: ParkingLimits, mut facts: Facts) -> Plan {
    // The ends are held too, and nobody looked them up. Runs grow while entries are placed, so this is noted before.
    for (log, runs) in &facts.runs {
        runs.all().iter().for_each(|run| {
            facts.held.entry((*log, run.to)).or_default().insert(run.end);
        });
    }
    let mut deciding = Deciding { plan: Plan { newest: facts.newest, ..Plan::default() }, facts };
    for entry in std::mem::take(&mut deciding.facts.adopted) {
        let id = entry.id;
        if !matches!(deciding.place(entry), Outcome::Already) {
            deciding.plan.adopted.push(id);
        }
    }
    for entry in entries {
        let known = deciding.facts.known.contains(&entry.id.log);
        let outcome = if known { deciding.place(entry) } else { deciding.park(entry, parking) };
        deciding.plan.outcomes.push(outcome);
    }
    deciding.plan
}

/// Returns the keys to be kept: those of logs of which something is parked now. Any other would be kept for nothing, and
/// keys cost their sender nothing.
pub(crate) fn keys_to_keep<'k>(keys: &'k [NewLog], plan: &Plan) -> Vec<&'k NewLog> {
    let parked: BTreeSet<LogId> = plan.parked.iter().map(|entry| entry.id.log).collect();
    keys.iter().filter(|key| parked.contains(&key.log)).collect()
}

struct Deciding {
    facts: Facts,
    plan: Plan,
}

impl Deciding {
    fn holds(&self, log: LogId, seq: Seq, hash: PayloadHash) -> bool {
        self.facts.held.get(&(log, seq)).is_some_and(|held| held.contains(&hash))
    }

    fn place(&mut self, entry: NewEntry) -> Outcome {
        let EntryId { log, seq, payload } = entry.id;
        if self.holds(log, seq, payload) {
            return Outcome::Already;
        }
        let parent = before(seq).zip(entry.previous);
        let parent_held = parent.is_some_and(|(seq, previous)| self.holds(log, seq, previous));
        let runs = self.facts.runs.entry(log).or_default();
        runs.add(Step { seq, previous: entry.previous, hash: payload }, parent_held);
        self.plan.runs.insert(log, runs.clone());
        let held = self.facts.held.entry((log, seq)).or_default();
        let forked = !held.is_empty();
        held.insert(payload);
        let arrival = Arrival(self.plan.newest.0 + 1);
        self.plan.newest = arrival;
        self.plan.placed.push(Placed { arrival, entry });
        if forked {
            self.plan.forked.insert((log, seq));
            return Outcome::Fork(arrival);
        }
        Outcome::New(arrival)
    }

    fn park(&mut self, entry: NewEntry, limits: ParkingLimits) -> Outcome {
        if self.facts.parked.contains(&entry.id) {
            return Outcome::Parked;
        }
        let waiting = self.facts.parked_of_log.entry(entry.id.log).or_default();
        if *waiting >= limits.entries_of_log {
            return Outcome::Refused(Refusal::LogParked);
        }
        let carried = self.facts.carried.saturating_add(entry.bytes.len() as u64);
        if carried > limits.bytes_of_carrier {
            return Outcome::Refused(Refusal::CarrierFull);
        }
        let in_all = self.facts.parked_in_all.saturating_add(entry.bytes.len() as u64 + PARKED_BESIDE);
        if in_all > limits.bytes_in_all {
            return Outcome::Refused(Refusal::ParkingFull);
        }
        *waiting += 1;
        self.facts.carried = carried;
        self.facts.parked_in_all = in_all;
        self.facts.parked.insert(entry.id);
        self.plan.parked.push(entry);
        Outcome::Parked
    }
}

/// Checks that entries stand one behind the other behind the end of a log.
pub(crate) fn extends(tip: Option<(Seq, PayloadHash)>, entries: &[NewEntry]) -> Result<(), Error> {
    let mut tip = tip;
    for entry in entries {
        let next = tip.map_or(Some(Seq::FIRST), |(seq, _)| seq.next());
        if next != Some(entry.id.seq) || entry.previous != tip.map(|(_, hash)| hash) {
            return Err(Error::OutOfStep { entry: entry.id });
        }
        tip = Some((entry.id.seq, entry.id.payload));
    }
    Ok(())
}

impl Batch {
    /// Returns a batch of entries whose logs are known.
    pub(crate) fn of_known(entries: Vec<NewEntry>) -> Batch {
        Batch { entries, ..Batch::default() }
    }

    /// Returns the logs that the batch touches, sorted.
    pub(crate) fn logs(&self) -> BTreeSet<LogId> {
        let known = self.known.iter().map(|known| known.log);
        self.entries.iter().map(|entry| entry.id.log).chain(known).collect()
    }
}
