//! The queue of visits to be worked out again.

use std::collections::BTreeMap;

use record::EntryId;

use super::Memory;
use super::state::Waiting;
use crate::{Arrival, Error, Found, Job, Jobs, Moment, Tally, WorkedOut};

impl Jobs for Memory {
    async fn claim(&self, now: Moment, until: Moment, most: u32) -> Result<Vec<Job>, Error> {
        let mut state = self.writing()?;
        let free = state.queue.iter().filter(|(_, waiting)| waiting.until <= now);
        let claimed: Vec<Arrival> = free.take(most as usize).map(|(arrival, _)| *arrival).collect();
        let mut jobs = Vec::new();
        for arrival in claimed {
            let Some(id) = state.entries.get(&arrival).map(|entry| entry.id) else { continue };
            let Some(waiting) = state.queue.get_mut(&arrival) else { continue };
            *waiting = Waiting { until, tries: waiting.tries + 1 };
            jobs.push(Job { arrival, id, tries: waiting.tries });
        }
        Ok(jobs)
    }

    async fn finish(&self, found: &[(Arrival, Found)]) -> Result<(), Error> {
        let mut state = self.writing()?;
        for (arrival, found) in found {
            if state.entries.contains_key(arrival) {
                state.queue.remove(arrival);
                state.found.insert(*arrival, found.clone());
            }
        }
        Ok(())
    }

    async fn requeue(&self, word: &str) -> Result<u64, Error> {
        let mut state = self.writing()?;
        let of_word = state.found.iter().filter(|(_, found)| found.word() == word);
        let arrivals: Vec<Arrival> = of_word.map(|(arrival, _)| *arrival).collect();
        let fresh = Waiting { until: Moment(i64::MIN), tries: 0 };
        state.queue.extend(arrivals.iter().map(|arrival| (*arrival, fresh)));
        Ok(arrivals.len() as u64)
    }

    async fn found(&self, id: EntryId) -> Result<Option<Found>, Error> {
        let state = self.state();
        Ok(state.by_id(id).and_then(|entry| state.found.get(&entry.arrival)).cloned())
    }

    async fn findings(
        &self,
        word: &str,
        before: Option<Arrival>,
        most: u32,
    ) -> Result<Vec<WorkedOut>, Error> {
        let state = self.state();
        let older = state.found.range(..before.unwrap_or(Arrival(u64::MAX))).rev();
        let of_word = older.filter(|(_, found)| found.word() == word);
        let row = |(arrival, found): (&Arrival, &Found)| {
            let id = state.entries.get(arrival)?.id;
            Some(WorkedOut { arrival: *arrival, id, found: found.clone() })
        };
        Ok(of_word.filter_map(row).take(most as usize).collect())
    }

    async fn tally(&self) -> Result<Tally, Error> {
        let state = self.state();
        let mut done = BTreeMap::new();
        for found in state.found.values() {
            *done.entry(found.word().to_owned()).or_default() += 1;
        }
        Ok(Tally { waiting: state.queue.len() as u64, done })
    }
}
