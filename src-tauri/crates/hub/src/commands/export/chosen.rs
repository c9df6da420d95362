//! Which records are written. Only their names are held for a choice that has to be put in order; the records themselves
//! are read a few at a time.

use std::collections::BTreeSet;

use anyhow::Result;
use bodies::{OBSERVATION, Visit};
use hubstore::{Arrival, Filter, HubStore, Ledger, Limit, Reading, StoredEntry, TagKey, Visits, VisitsAsked};
use record::{EntryId, LogId, PayloadHash};

/// Records that were chosen, as far as they were not read yet.
pub(super) enum Chosen {
    /// Everything, or one log's.
    All(Reading),
    /// These, in this order.
    Named(std::vec::IntoIter<EntryId>),
}

/// What belongs to the chosen visits and is not in the file.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Lacking {
    /// Observations that are cited and not here.
    pub(super) cited: usize,
    /// Visits of which this version cannot read what they cite.
    pub(super) unread: usize,
}

impl Chosen {
    /// Chooses: the visits of a tag and what they cite, a log, or everything.
    pub(super) async fn of(
        store: &impl HubStore,
        tag: Option<&str>,
        log: Option<LogId>,
    ) -> Result<(Chosen, Lacking)> {
        let Some(tag) = tag else {
            let filter = Filter { kinds: Vec::new(), logs: log.into_iter().collect() };
            return Ok((Chosen::All(Reading::all(filter)), Lacking::default()));
        };
        let Found { mut named, mut cited, unread } = visits_of(store, tag, log).await?;
        for (arrival, id) in observed(store, &cited).await? {
            if log.is_none_or(|log| id.log == log) {
                cited.remove(&id.payload);
                named.push((arrival, id));
            }
        }
        // In the order in which they came: what is cited was signed, and mostly came, before the visit.
        named.sort_unstable();
        let named: Vec<EntryId> = named.into_iter().map(|(_, id)| id).collect();
        Ok((Chosen::Named(named.into_iter()), Lacking { cited: cited.len(), unread }))
    }

    /// Reads the next few; none at the end.
    pub(super) async fn next(&mut self, store: &impl HubStore) -> Result<Vec<StoredEntry>> {
        match self {
            Chosen::All(reading) => Ok(reading.next(store).await?.unwrap_or_default()),
            Chosen::Named(names) => {
                let (mut entries, mut bytes) = (Vec::new(), 0);
                while bytes < Limit::default().bytes {
                    let Some(name) = names.next() else { break };
                    entries.extend(Ledger::entry(store, name).await?);
                    bytes += entries.last().map_or(0, |entry| entry.bytes.len() as u64);
                }
                Ok(entries)
            }
        }
    }
}

/// Visits, by their names, and what they cite.
#[derive(Default)]
struct Found {
    named: Vec<(Arrival, EntryId)>,
    cited: BTreeSet<PayloadHash>,
    unread: usize,
}

async fn visits_of(store: &impl HubStore, tag: &str, log: Option<LogId>) -> Result<Found> {
    let mut found = Found::default();
    let mut asked = VisitsAsked { tag: Some(TagKey::of(tag)), most: 200, ..VisitsAsked::default() };
    loop {
        let rows = Visits::visits(store, &asked).await?;
        let Some(last) = rows.last() else { return Ok(found) };
        asked.before = Some(last.arrival);
        for row in rows.into_iter().filter(|row| log.is_none_or(|log| row.id.log == log)) {
            found.named.push((row.arrival, row.id));
            let kept = Ledger::entry(store, row.id).await?;
            let entry = kept.as_ref().and_then(|kept| record::open(&kept.bytes).ok());
            match entry.and_then(|entry| Visit::of_entry(&entry).ok()) {
                Some(visit) => found.cited.extend(visit.cited),
                None => found.unread += 1,
            }
        }
    }
}

/// Finds observations by the hashes of their payloads; a visit names them by nothing else.
async fn observed(store: &impl HubStore, wanted: &BTreeSet<PayloadHash>) -> Result<Vec<(Arrival, EntryId)>> {
    let filter = Filter { kinds: vec![OBSERVATION], logs: Vec::new() };
    let (mut found, mut reading) = (Vec::new(), Reading::all(filter));
    while found.len() < wanted.len()
        && let Some(entries) = reading.next(store).await?
    {
        let of_these = entries.iter().filter(|entry| wanted.contains(&entry.id.payload));
        found.extend(of_these.map(|entry| (entry.arrival, entry.id)));
    }
    Ok(found)
}
