//! Logs and their standing.

use std::collections::BTreeMap;
use std::ops::Bound;

use record::LogId;

use super::Memory;
use crate::{Error, LogRow, Logs, ParkedLog, Standing};

impl Logs for Memory {
    async fn log(&self, log: LogId) -> Result<Option<LogRow>, Error> {
        Ok(self.state().logs.get(&log).cloned())
    }

    async fn logs_named(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, LogRow>, Error> {
        let state = self.state();
        Ok(logs.iter().filter_map(|log| Some((*log, state.logs.get(log)?.clone()))).collect())
    }

    async fn logs(&self, after: Option<LogId>, most: u32) -> Result<Vec<LogRow>, Error> {
        let from = after.map_or(Bound::Unbounded, Bound::Excluded);
        let state = self.state();
        Ok(state
            .logs
            .range((from, Bound::Unbounded))
            .take(most as usize)
            .map(|(_, row)| row.clone())
            .collect())
    }

    async fn set_standing(&self, log: LogId, standing: Standing) -> Result<(), Error> {
        let mut state = self.writing()?;
        let known = state.logs.get_mut(&log).filter(|row| row.standing != Standing::Parked);
        let row = known.ok_or(Error::UnknownLog { log })?;
        if standing == Standing::Parked {
            return Err(Error::broken("a log that was known is not parked again"));
        }
        row.standing = standing;
        Ok(())
    }

    async fn parked(&self) -> Result<Vec<ParkedLog>, Error> {
        let mut logs = BTreeMap::<LogId, ParkedLog>::new();
        for (id, (_, entry)) in &self.state().parked {
            let log = logs.entry(id.log).or_insert(ParkedLog { log: id.log, entries: 0, bytes: 0 });
            log.entries += 1;
            log.bytes += entry.bytes.len() as u64;
        }
        Ok(logs.into_values().collect())
    }
}
