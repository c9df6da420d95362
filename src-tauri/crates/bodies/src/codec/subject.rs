//! An entry that another entry speaks of: `[log, seq, payload hash]`.

use record::{EntryId, LogId, PayloadHash};

use super::{Out, Read, Written, bytes, row, seq};
use crate::Error;

/// Writes an entry's identity.
pub(crate) fn write_subject(out: &mut Out, subject: &EntryId) -> Written {
    let EntryId { log, seq, payload } = subject;
    Ok(out.array(3)?.bytes(&log.0)?.u64(seq.get())?.bytes(&payload.0)?.ok()?)
}

/// Reads an entry's identity.
pub(crate) fn read_subject(from: &mut Read<'_>, place: &'static str) -> Result<EntryId, Error> {
    row(from, 3, place)?;
    let (log, seq) = (LogId(bytes(from, place)?), seq(from, place)?);
    Ok(EntryId { log, seq, payload: PayloadHash(bytes(from, place)?) })
}
