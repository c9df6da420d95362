//! Entries.

use std::collections::{BTreeMap, BTreeSet};

use exchange::run::{Runs, Step, Wanted};
use record::{EntryId, LogId, PayloadHash, Seq};

use super::Memory;
use super::state::{State, Waiting};
use crate::plan::{Facts, Placed, Plan, at_once, decide, extends, keys_to_keep, walk};
use crate::{
    Arrival, Batch, Error, Filter, Follows, Fork, Ingested, Ledger, Limit, LogRow, Moment, NewEntry, NewLog,
    News, PARKED_BESIDE, Standing, StoredEntry,
};

impl Ledger for Memory {
    async fn ingest(&self, batch: Batch) -> Result<Ingested, Error> {
        Ok(self.writing()?.ingest(batch))
    }

    async fn append(&self, entries: Vec<NewEntry>) -> Result<Arrival, Error> {
        self.append_with(entries, Follows::default()).await
    }

    async fn append_with(&self, entries: Vec<NewEntry>, follows: Follows) -> Result<Arrival, Error> {
        let mut state = self.writing()?;
        let Some(entry) = entries.first().map(|entry| entry.id) else { return Ok(state.newest()) };
        if !state.is_known(entry.log) {
            return Err(Error::UnknownLog { log: entry.log });
        }
        extends(state.tip(entry.log), &entries)?;
        state.can_follow(&follows, entry)?;
        state.ingest(Batch { entries, ..Batch::default() });
        state.follow(follows)?;
        Ok(state.newest())
    }

    async fn tip(&self, log: LogId) -> Result<Option<(Seq, PayloadHash)>, Error> {
        Ok(self.state().tip(log))
    }

    async fn runs(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, Runs>, Error> {
        let state = self.state();
        Ok(logs.iter().filter_map(|log| Some((*log, state.runs.get(log)?.clone()))).collect())
    }

    async fn holds(&self, ids: &[EntryId]) -> Result<Vec<bool>, Error> {
        let state = self.state();
        Ok(ids.iter().map(|id| state.by_id(*id).is_some()).collect())
    }

    async fn entry(&self, id: EntryId) -> Result<Option<StoredEntry>, Error> {
        Ok(self.state().by_id(id).cloned())
    }

    async fn branch(&self, wanted: Wanted) -> Result<Vec<StoredEntry>, Error> {
        at_once(wanted.from, wanted.to)?;
        let state = self.state();
        let places = state.places.range((wanted.log, wanted.from)..=(wanted.log, wanted.to));
        let arrivals = places.flat_map(|(_, payloads)| payloads.values());
        walk(wanted, arrivals.filter_map(|arrival| state.entries.get(arrival).cloned()).collect())
    }

    async fn links(&self, log: LogId, from: Seq, to: Seq) -> Result<Vec<Step>, Error> {
        at_once(from, to)?;
        let state = self.state();
        let places = state.places.range((log, from)..=(log, to));
        let entries = places.flat_map(|(_, payloads)| payloads.values());
        let step = |entry: &StoredEntry| Step {
            seq: entry.id.seq,
            previous: entry.previous,
            hash: entry.id.payload,
        };
        Ok(entries.filter_map(|arrival| state.entries.get(arrival).map(step)).collect())
    }

    async fn forked(&self, log: LogId, upto: Seq) -> Result<BTreeSet<Seq>, Error> {
        let state = self.state();
        Ok(state.forks.range((log, Seq::FIRST)..=(log, upto)).map(|(_, seq)| *seq).collect())
    }

    async fn since(&self, after: Arrival, filter: &Filter, limit: Limit) -> Result<News, Error> {
        let state = self.state();
        let entries = state.entries.range(Arrival(after.0 + 1)..).map(|(_, entry)| entry);
        let asked = entries.filter(|entry| is_asked(filter, entry));
        let news = page(asked.cloned(), limit, after.max(state.newest()));
        self.gave(&news.entries);
        Ok(news)
    }

    async fn latest(
        &self,
        before: Option<Arrival>,
        filter: &Filter,
        limit: Limit,
    ) -> Result<Vec<StoredEntry>, Error> {
        let state = self.state();
        let older = state.entries.range(..before.unwrap_or(Arrival(u64::MAX))).rev().map(|(_, entry)| entry);
        let asked = older.filter(|entry| is_asked(filter, entry));
        let entries = page(asked.cloned(), limit, Arrival::default()).entries;
        self.gave(&entries);
        Ok(entries)
    }

    async fn news_for(&self, logs: &[LogId], after: Arrival, limit: Limit) -> Result<News, Error> {
        let state = self.state();
        let whose = logs.iter().copied().map(Some).chain([None]);
        let arrivals: BTreeSet<Arrival> = whose
            .flat_map(|who| state.concerns.range((who, Arrival(after.0 + 1))..=(who, Arrival(u64::MAX))))
            .map(|(_, arrival)| *arrival)
            .collect();
        let entries = arrivals.iter().filter_map(|arrival| state.entries.get(arrival).cloned());
        Ok(page(entries, limit, after.max(state.newest())))
    }

    async fn receipts(&self, log: LogId) -> Result<Vec<StoredEntry>, Error> {
        let state = self.state();
        let of_log = state.receipts.iter().filter(|((about, ..), _)| *about == log);
        let arrivals: BTreeSet<Arrival> = of_log.map(|(_, arrival)| *arrival).collect();
        Ok(arrivals.iter().filter_map(|arrival| state.entries.get(arrival).cloned()).collect())
    }

    async fn newest(&self) -> Result<Arrival, Error> {
        Ok(self.state().newest())
    }

    async fn forks(&self) -> Result<Vec<Fork>, Error> {
        let state = self.state();
        let fork = |(log, seq): &(LogId, Seq)| {
            let payloads = state.places.get(&(*log, *seq))?.keys().copied().collect();
            Some(Fork { log: *log, seq: *seq, payloads })
        };
        Ok(state.forks.iter().filter_map(fork).collect())
    }
}

impl State {
    pub(super) fn is_known(&self, log: LogId) -> bool {
        self.logs.get(&log).is_some_and(|row| row.standing != Standing::Parked)
    }

    fn tip(&self, log: LogId) -> Option<(Seq, PayloadHash)> {
        let runs = self.runs.get(&log)?.all();
        runs.iter().map(|run| (run.to, run.end)).max()
    }

    pub(super) fn ingest(&mut self, mut batch: Batch) -> Ingested {
        let adopted = self.vouch(&batch.known);
        let facts = self.facts(&batch, adopted);
        let plan = decide(std::mem::take(&mut batch.entries), batch.parking, facts);
        keys_to_keep(&batch.keys, &plan).into_iter().for_each(|key| self.keep_key(key));
        self.carry_out(plan, batch.carrier)
    }

    /// Makes logs known and returns what was parked of them.
    fn vouch(&mut self, known: &[NewLog]) -> Vec<NewEntry> {
        for new in known {
            let row = LogRow { log: new.log, key: new.key.clone(), standing: Standing::Known };
            let standing = self.logs.entry(new.log).or_insert_with(|| row.clone());
            if standing.standing == Standing::Parked {
                *standing = row;
            }
        }
        let now_known: BTreeSet<LogId> = known.iter().map(|new| new.log).collect();
        let parked = self.parked.values().filter(|(_, entry)| now_known.contains(&entry.id.log));
        let adopted: Vec<NewEntry> = parked.map(|(_, entry)| entry.clone()).collect();
        self.parked.retain(|id, _| !now_known.contains(&id.log));
        adopted
    }

    fn keep_key(&mut self, key: &NewLog) {
        let row = LogRow { log: key.log, key: key.key.clone(), standing: Standing::Parked };
        self.logs.entry(key.log).or_insert(row);
    }

    fn facts(&self, batch: &Batch, adopted: Vec<NewEntry>) -> Facts {
        let mut facts = Facts { adopted, newest: self.newest(), ..Facts::default() };
        for log in batch.logs() {
            facts.known.extend(self.is_known(log).then_some(log));
            facts.runs.extend(self.runs.get(&log).map(|runs| (log, runs.clone())));
            let waiting = self.parked.keys().filter(|id| id.log == log);
            facts.parked_of_log.insert(log, waiting.clone().count() as u64);
            facts.parked.extend(waiting);
            let held = self.places.range((log, Seq::FIRST)..=(log, Seq::LAST));
            facts.held.extend(held.map(|(place, payloads)| (*place, payloads.keys().copied().collect())));
        }
        let carried = self.parked.values().filter(|(carrier, _)| *carrier == batch.carrier);
        facts.carried = carried.map(|(_, entry)| entry.bytes.len() as u64).sum();
        let each = self.parked.values().map(|(_, entry)| entry.bytes.len() as u64 + PARKED_BESIDE);
        facts.parked_in_all = each.sum();
        facts
    }

    fn carry_out(&mut self, plan: Plan, carrier: [u8; 32]) -> Ingested {
        self.forks.extend(plan.forked);
        self.runs.extend(plan.runs);
        self.parked.extend(plan.parked.into_iter().map(|entry| (entry.id, (carrier, entry))));
        plan.placed.into_iter().for_each(|placed| self.keep(placed));
        Ingested { outcomes: plan.outcomes, adopted: plan.adopted }
    }

    fn keep(&mut self, placed: Placed) {
        let Placed { arrival, entry: NewEntry { id, previous, kind, bytes, index } } = placed;
        self.entries.insert(arrival, StoredEntry { arrival, id, previous, kind, bytes });
        self.places.entry((id.log, id.seq)).or_default().insert(id.payload, arrival);
        self.concerns.extend(index.concerns.iter().map(|log| (Some(*log), arrival)));
        self.concerns.extend(index.everyone.then_some((None, arrival)));
        if let Some(receipt) = index.receipt {
            let filed = (receipt.log, id.log, receipt.grade);
            if let Some(older) = self.receipts.insert(filed, arrival) {
                self.concerns.remove(&(Some(receipt.log), older));
            }
            self.concerns.insert((Some(receipt.log), arrival));
        }
        if kind == bodies::VISIT {
            self.queue.insert(arrival, Waiting { until: Moment(i64::MIN), tries: 0 });
        }
        self.visits.extend(index.visit.map(|line| (arrival, line)));
        for cited in index.photos {
            self.cites.insert((id.log, cited.photo), arrival);
            self.photos.entry(cited.photo).or_insert((cited, false));
        }
    }

    /// Parks an entry as a dump has it.
    pub(super) fn park(&mut self, carrier: [u8; 32], entry: NewEntry) {
        self.parked.insert(entry.id, (carrier, entry));
    }
}

fn is_asked(filter: &Filter, entry: &StoredEntry) -> bool {
    (filter.kinds.is_empty() || filter.kinds.contains(&entry.kind))
        && (filter.logs.is_empty() || filter.logs.contains(&entry.id.log))
}

/// Takes entries until a limit is reached; `newest` is where to go on when it was not.
fn page(entries: impl Iterator<Item = StoredEntry>, limit: Limit, newest: Arrival) -> News {
    let (entries, more) = limit.cut(entries.map(|entry| {
        let size = entry.bytes.len() as u64;
        (entry, size)
    }));
    let upto = entries.last().filter(|_| more).map_or(newest, |last| last.arrival);
    News { entries, upto, more }
}
