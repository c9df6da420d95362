//! The register.

use std::collections::BTreeMap;
use std::ops::Bound;

use super::Memory;
use super::state::State;
use crate::plan::diff;
use crate::{Change, Error, Put, Register, Row, Rows, Version};

impl Register for Memory {
    async fn put_rows(&self, rows: Rows) -> Result<Put, Error> {
        Ok(self.writing()?.put(rows))
    }

    async fn would_put(&self, rows: &Rows) -> Result<Put, Error> {
        let state = self.state();
        Ok(diff(&state.standing(), rows.clone(), state.version).1)
    }

    async fn changes(&self, area: &str, after: Version, most: u32) -> Result<Vec<Change>, Error> {
        let state = self.state();
        let newer = state.rows.values().filter(|change| change.area == area && change.version > after);
        let mut changes: Vec<Change> = newer.cloned().collect();
        changes.sort_by_key(|change| change.version);
        changes.truncate(most as usize);
        Ok(changes)
    }

    async fn areas(&self) -> Result<Vec<(String, Version)>, Error> {
        let mut areas = BTreeMap::<String, Version>::new();
        for change in self.state().rows.values() {
            let newest = areas.entry(change.area.clone()).or_default();
            *newest = change.version.max(*newest);
        }
        Ok(areas.into_iter().collect())
    }

    async fn row(&self, tag: &str) -> Result<Option<Row>, Error> {
        Ok(self.state().standing().remove(tag))
    }

    async fn rows(&self, after: &str, most: u32) -> Result<Vec<Row>, Error> {
        let standing = self.state().standing();
        let behind = standing.range::<str, _>((Bound::Excluded(after), Bound::Unbounded));
        Ok(behind.take(most as usize).map(|(_, row)| row.clone()).collect())
    }

    async fn history(&self, tag: &str) -> Result<Vec<Change>, Error> {
        Ok(self.state().history.iter().filter(|change| change.tag == tag).cloned().collect())
    }
}

impl State {
    /// Returns the rows that stand, by tag.
    pub(super) fn standing(&self) -> BTreeMap<String, Row> {
        let row = |change: &Change| {
            let bytes = change.row.clone()?;
            Some((change.tag.clone(), Row { tag: change.tag.clone(), area: change.area.clone(), bytes }))
        };
        self.rows.values().filter_map(row).collect()
    }

    /// Puts rows in.
    pub(super) fn put(&mut self, rows: Rows) -> Put {
        let (changes, put) = diff(&self.standing(), rows, self.version);
        changes.into_iter().for_each(|change| self.change(change));
        put
    }

    pub(super) fn change(&mut self, change: Change) {
        self.version = change.version;
        self.history.push(change.clone());
        self.rows.insert((change.tag.clone(), change.area.clone()), change);
    }
}
