//! Whether an earlier visit may stand as evidence today.

use crate::visit::fitted::same_serial;
use crate::visit::{Draft, Key, Known, KnownEarlier, Spot};

use super::{KnownStanding, Past};

/// Returns the earlier visit that may stand as evidence, or why none may.
pub(in crate::visit) fn usable<'a>(
    draft: &Draft,
    known: &'a Known,
    past: &Past,
) -> Result<(&'a KnownEarlier, KnownStanding), &'static str> {
    if past.history.drift.as_ref().is_err_and(super::lines::contradicts) {
        return Err("The dates of the earlier visits contradict each other, so none of them counts.");
    }
    let last = known.earlier.iter().rev().find_map(|visit| visit.standing.map(|standing| (visit, standing)));
    let Some((visit, standing)) = last else {
        return Err("No earlier visit with an offset and its uncertainty is known here.");
    };
    if !same_unit(draft, &visit.serial) {
        return Err("Another unit has been fitted since the last visit: its offset history starts anew.");
    }
    let later = known.earlier.iter().rev().take_while(|later| !std::ptr::eq(*later, visit));
    if later.into_iter().any(|later| later.moved || differs(&later.serial, &visit.serial)) {
        return Err("The transmitter was moved or changed after the last visit with an offset.");
    }
    Ok((visit, standing))
}

/// Tells whether a visit was to the unit that is fitted today: by its serial, and the one read off the plate or else the
/// register's.
pub(in crate::visit) fn same_unit(draft: &Draft, of_visit: &str) -> bool {
    let read = draft.answers.text(Spot::of(Key::SerialRead));
    let serial = if read.trim().is_empty() { &draft.instrument.serial } else { read };
    !differs(serial, of_visit)
}

pub(in crate::visit) fn differs(one: &str, other: &str) -> bool {
    !one.is_empty() && !other.is_empty() && !same_serial(one, other)
}
