//! One branch of a log, followed down from its end: which entries lead to it.
//!
//! A log is seldom forked, and where it is not, one payload stands at a place and the place says enough. So only forked
//! places are walked, each once; however long the log is, and however many of its entries are asked about.

use std::collections::{BTreeMap, BTreeSet};

use ::exchange::run::{Runs, Step, Wanted};
use hubstore::Ledger;
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::Error;

/// The most places that are looked up at once.
const PIECE: usize = 10_000;

/// A branch, as far as it is held without a gap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Branch {
    log: LogId,
    /// Its lowest and its highest place; none where not even the end is held.
    places: Option<(Seq, Seq)>,
    /// What of it stands at the places that are forked.
    forked: BTreeMap<Seq, PayloadHash>,
}

impl Branch {
    /// Follows the branch that ends with a payload at a place. Where something is missing it ends: what stands below
    /// cannot be vouched for.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn down_from(
        store: &impl Ledger,
        log: LogId,
        end: Seq,
        payload: PayloadHash,
    ) -> Result<Branch, Error> {
        let forks = store.forked(log, end).await?;
        let runs = store.runs(&[log]).await?.remove(&log).unwrap_or_default();
        let mut pieces = Pieces { store, log, forks: &forks, from: None, links: BTreeMap::new() };
        let mut branch = Branch { log, places: None, forked: BTreeMap::new() };
        let (mut at, mut hash) = (end, payload);
        while let Some(step) = pieces.step(at, hash).await? {
            let lowest = if forks.contains(&at) {
                branch.forked.insert(at, hash);
                step
            } else {
                let above_fork = forks.range(..at).next_back().and_then(|fork| fork.next());
                let lowest = above_fork.unwrap_or(Seq::FIRST).max(begins(&runs, at));
                pieces.only(lowest).await?.unwrap_or(step)
            };
            branch.places = Some((lowest.seq, end));
            let below = Seq::new(lowest.seq.get() - 1).zip(lowest.previous);
            let Some(next) = below else { break };
            (at, hash) = next;
        }
        Ok(branch)
    }

    /// Returns the lowest piece of this branch from a place on, at most so many places; none where nothing is held of it
    /// there. Where something is missing between, it begins behind that.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn lowest(&self, store: &impl Ledger, from: Seq, most: u64) -> Result<Option<Wanted>, Error> {
        let Some((lowest, end)) = self.places else { return Ok(None) };
        let from = from.max(lowest);
        let to = Seq::new(from.get().saturating_add(most - 1)).unwrap_or(end).min(end);
        let payload = match self.forked.get(&to) {
            Some(payload) => Some(*payload),
            None => store.links(self.log, to, to).await?.first().map(|step| step.hash),
        };
        let end = payload.filter(|_| from <= to);
        Ok(end.map(|end| Wanted { log: self.log, from, to, end }))
    }

    /// Returns whether an entry that is held leads to the end of this branch.
    #[must_use]
    pub fn goes_through(&self, id: &EntryId) -> bool {
        let within = self.places.is_some_and(|(lowest, end)| (lowest..=end).contains(&id.seq));
        within && self.log == id.log && self.forked.get(&id.seq).is_none_or(|payload| *payload == id.payload)
    }
}

/// The first place of the run that holds a place which is not forked: there is one such run.
fn begins(runs: &Runs, at: Seq) -> Seq {
    let run = runs.all().iter().find(|run| run.from <= at && at <= run.to);
    run.map_or(at, |run| run.from)
}

/// How entries of a log hang together, looked up in pieces from the end down.
struct Pieces<'a, L> {
    store: &'a L,
    log: LogId,
    forks: &'a BTreeSet<Seq>,
    /// The lowest place that was looked up.
    from: Option<Seq>,
    links: BTreeMap<(Seq, PayloadHash), Step>,
}

impl<L: Ledger> Pieces<'_, L> {
    async fn step(&mut self, at: Seq, hash: PayloadHash) -> Result<Option<Step>, Error> {
        self.look(at).await?;
        Ok(self.links.get(&(at, hash)).copied())
    }

    /// The entry at a place where only one stands.
    async fn only(&mut self, at: Seq) -> Result<Option<Step>, Error> {
        self.look(at).await?;
        let least = (at, PayloadHash([0; 32]));
        Ok(self.links.range(least..=(at, PayloadHash([255; 32]))).next().map(|(_, step)| *step))
    }

    /// Looks up a place; one that is forked together with the forked ones right below it, which are asked for next.
    async fn look(&mut self, at: Seq) -> Result<(), Error> {
        if self.from.is_some_and(|from| from <= at) {
            return Ok(());
        }
        let forked = self.forks.range(..=at).rev().take(PIECE).zip((1..=at.get()).rev());
        let from =
            forked.take_while(|(fork, place)| fork.get() == *place).last().map_or(at, |(fork, _)| *fork);
        let links = self.store.links(self.log, from, at).await?;
        self.links = links.into_iter().map(|step| ((step.seq, step.hash), step)).collect();
        self.from = Some(from);
        Ok(())
    }
}
