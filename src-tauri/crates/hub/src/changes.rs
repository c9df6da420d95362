//! What people changed at the hub itself, read back from its log, for whoever looks after it.
//!
//! Only what a hub signed is a change: this one, and those before it in the same organisation. A page is read from its
//! newest on, and no more than it shows.

use std::collections::BTreeSet;

use ::exchange::trust::Standing;
use bodies::{CHANGE, Change};
use hubstore::{Arrival, Filter, HubStore, Limit, StoredEntry};
use record::{Claimed, EntryId, LogId, Proof, Signer};

use crate::Error;
use crate::counting::Counting;
use crate::home::Hub;

/// A change in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    /// When it came, among all records here.
    pub arrival: Arrival,
    /// Its name.
    pub id: EntryId,
    /// What was changed, and by whom.
    pub change: Change,
    /// When it was made, as the hub's clock claimed.
    pub claimed: Claimed,
    /// Whether it counts: a former hub may have been revoked before it, or its log be forked.
    pub standing: Standing,
}

/// Returns up to `most` changes, the newest first, of those that came before one.
///
/// # Errors
///
/// What the store says.
pub async fn changes<S, K, P>(
    hub: &Hub<S, K, P>,
    before: Option<Arrival>,
    most: usize,
) -> Result<Vec<Line>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    // Never an empty list, which would ask for all logs: in a phone's a change says nothing.
    let hubs = trusted.trust().hubs().map(|(log, _)| log).chain([hub.identity.log]);
    let hubs: BTreeSet<LogId> = hubs.collect();
    let filter = Filter { kinds: vec![CHANGE], logs: hubs.into_iter().collect() };
    let (mut counting, mut lines, mut before) = (Counting::at(hub).await?, Vec::new(), before);
    while lines.len() < most {
        let lacking = u32::try_from(most - lines.len()).unwrap_or(u32::MAX);
        let limit = Limit { entries: lacking.min(Limit::default().entries), ..Limit::default() };
        let page = hub.store.latest(before, &filter, limit).await?;
        let Some(last) = page.last() else { break };
        before = Some(last.arrival);
        for entry in &page {
            // What a newer program wrote is kept, and shown once this one can read it.
            let Some((change, claimed)) = opened(entry) else { continue };
            let (arrival, id) = (entry.arrival, entry.id);
            let standing = counting.standing(&id).await?;
            lines.push(Line { arrival, id, change, claimed, standing });
        }
    }
    Ok(lines)
}

fn opened(entry: &StoredEntry) -> Option<(Change, Claimed)> {
    let entry = record::open(&entry.bytes).ok()?;
    Some((Change::of_entry(&entry).ok()?, entry.header.claimed))
}
