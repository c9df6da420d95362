//! A branch, walked back from its end.

use std::collections::BTreeMap;

use exchange::run::Wanted;
use record::{EntryId, PayloadHash, Seq};

use crate::{Error, StoredEntry};

/// The most places that a branch is given of at once.
const MOST_PLACES: u64 = 10_000;

/// Checks that no more places are asked for than are given at once.
pub(crate) fn at_once(from: Seq, to: Seq) -> Result<(), Error> {
    if to.get().saturating_sub(from.get()) < MOST_PLACES {
        Ok(())
    } else {
        Err(Error::broken("a branch is asked for in pieces of 10,000 places"))
    }
}

/// Picks, of all entries at the places asked for, those that lead to the end. Without a fork these are all of them; with
/// one, each entry names the one before it, and the others are left out.
pub(crate) fn walk(wanted: Wanted, entries: Vec<StoredEntry>) -> Result<Vec<StoredEntry>, Error> {
    let mut by_id: BTreeMap<(Seq, PayloadHash), StoredEntry> =
        entries.into_iter().map(|entry| ((entry.id.seq, entry.id.payload), entry)).collect();
    let mut branch = Vec::with_capacity(by_id.len());
    let (mut seq, mut hash) = (wanted.to, wanted.end);
    loop {
        let missing = EntryId { log: wanted.log, seq, payload: hash };
        let entry = by_id.remove(&(seq, hash)).ok_or(Error::Missing { missing })?;
        let previous = entry.previous;
        branch.push(entry);
        match (Seq::new(seq.get() - 1), previous) {
            (Some(below), Some(previous)) if seq > wanted.from => (seq, hash) = (below, previous),
            _ => break,
        }
    }
    branch.reverse();
    Ok(branch)
}
