//! What this phone once had and has no more: after its file was damaged, or it was put back from an older copy.
//!
//! Three things tell of it. A log that this phone wrote and no longer writes has gaps; receipts for it name an end that is
//! not here; and this phone's own receipts name what it passed on for others. Of the log that it writes now nothing can be
//! lacking: what a receipt names there that is not here, a copy of this phone wrote.

use std::collections::{BTreeMap, BTreeSet};

use bodies::HeldRun;
use exchange::have::HaveSet;
use exchange::plan;
use exchange::run::{Runs, Wanted};
use record::EntryId;
use rusqlite::Connection;

use crate::{Error, LogId, PayloadHash, Place, Seq, Store, identity, known, receipts, runs};

impl Store {
    /// Returns whether somebody signs with this phone's key: a receipt names an end of the log that is written now, and the
    /// entry is not here. A copy of this phone is in use, or this is an older copy of its data.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when what is known of it is not as it was written, and what storage gives.
    pub fn is_copied(&self) -> Result<bool, Error> {
        self.read(|connection| {
            let Some(now) = identity::now(connection)? else { return Ok(false) };
            let held = runs::runs_of(connection, now)?;
            Ok(!not_held(connection, now, held, receipts::said(connection, now)?)?.is_empty())
        })
    }
}

/// Returns what is lacking, sorted.
pub(crate) fn lacking(connection: &Connection) -> Result<Vec<Wanted>, Error> {
    let own: BTreeSet<LogId> = known::own_logs(connection)?.into_iter().collect();
    let now = identity::now(connection)?;
    let mut lacking = Vec::new();
    for log in own.iter().filter(|log| Some(**log) != now) {
        let held = runs::runs_of(connection, *log)?;
        lacking.extend(held.gaps(log.of_record()));
        lacking.extend(not_held(connection, *log, held, receipts::said(connection, *log)?)?);
    }
    let hubs: BTreeSet<LogId> = known::hub_logs(connection)?.into_iter().map(|hub| hub.log).collect();
    for (log, said) in receipts::passed_on(connection)? {
        // What hubs say comes as news, and none of it is asked for.
        if !own.contains(&log) && !hubs.contains(&log) {
            lacking.extend(not_held(connection, log, runs::runs_of(connection, log)?, said)?);
        }
    }
    lacking.sort_unstable();
    lacking.dedup();
    Ok(lacking)
}

/// What of these runs is not held.
fn not_held(
    connection: &Connection,
    log: LogId,
    held: Runs,
    said: Vec<HeldRun>,
) -> Result<Vec<Wanted>, Error> {
    let said = HaveSet(BTreeMap::from([(log.of_record(), said)]));
    let mut ends = Vec::new();
    for EntryId { seq, payload, .. } in plan::ends(&said) {
        let place = Place { log, seq: Seq::of(seq) };
        if crate::log::holds(connection, place, PayloadHash::of(payload))? {
            ends.push(EntryId { log: log.of_record(), seq, payload });
        }
    }
    Ok(plan::wanted(&said, &BTreeMap::from([(log.of_record(), held)]), &ends))
}
