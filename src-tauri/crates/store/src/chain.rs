//! A chain walked back from its end.

use std::collections::BTreeSet;

use rusqlite::{Connection, params};

use crate::{Error, LogId, PayloadHash, Seq};

/// Returns the payloads that lead to an end, back to a place, as far as they are held here without a gap.
pub(crate) fn leading_to(
    connection: &Connection,
    log: LogId,
    first: Seq,
    (last, end): (Seq, PayloadHash),
) -> Result<BTreeSet<PayloadHash>, Error> {
    let mut statement = connection.prepare_cached(
        "SELECT hash, previous FROM entry WHERE log = ?1 AND seq BETWEEN ?2 AND ?3 ORDER BY seq DESC",
    )?;
    let rows = statement.query_map(params![log, first, last], |row| {
        Ok((row.get::<_, PayloadHash>(0)?, row.get::<_, Vec<u8>>(1)?))
    })?;
    let mut wanted = Some(end);
    let mut leading = BTreeSet::new();
    for row in rows {
        let (hash, previous) = row?;
        if wanted == Some(hash) {
            leading.insert(hash);
            wanted = previous.try_into().ok().map(PayloadHash);
        }
    }
    Ok(leading)
}
