//! The chain: each entry names the payload before it, so that nothing can be taken out of the middle unseen.

use crate::{Entry, Error, Seq};

/// Places of a log that are not among the entries at hand. An export may hold a selection, so this is no fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// The first place that is missing.
    pub from: Seq,
    /// The last place that is missing.
    pub to: u64,
}

/// Checks that one entry stands behind another of the same log, and returns the places missing between.
///
/// # Errors
///
/// [`Error::OtherLog`], [`Error::OutOfOrder`], or [`Error::BrokenChain`] where two neighbours do not fit.
pub fn follows(before: &Entry<'_>, next: &Entry<'_>) -> Result<Option<Gap>, Error> {
    if next.id.log != before.id.log {
        return Err(Error::OtherLog { expected: before.id.log, found: next.id });
    }
    if next.id.seq <= before.id.seq {
        return Err(Error::OutOfOrder { after: before.id.seq, found: next.id });
    }
    match before.id.seq.next() {
        Some(from) if from < next.id.seq => Ok(Some(Gap { from, to: next.id.seq.get() - 1 })),
        _ if next.header.previous == Some(before.id.payload) => Ok(None),
        _ => Err(Error::BrokenChain(next.id)),
    }
}

/// Checks entries of one log, lowest place first, and returns the places missing between them.
///
/// # Errors
///
/// As [`follows`], for the first two that do not fit.
pub fn check_chain(entries: &[Entry<'_>]) -> Result<Vec<Gap>, Error> {
    let pairs = entries.iter().zip(entries.iter().skip(1));
    pairs.filter_map(|(before, next)| follows(before, next).transpose()).collect()
}
