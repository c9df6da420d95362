//! Looks for every slip in a visit.

use super::{Slip, head, numbers, scene, told};
use crate::evidence::slips::look;
use crate::visit::advice::Shift;
use crate::visit::builder::build;
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::known::Known;
use crate::visit::{Draft, LevelTold, Timing};

/// What a visit's slips are looked for in.
pub(in crate::visit) struct Visit<'a> {
    pub(in crate::visit) draft: &'a Draft,
    pub(in crate::visit) known: &'a Known,
    pub(in crate::visit) conditions: &'a Conditions,
    pub(in crate::visit) entries: &'a Entries,
}

/// Returns the slips of a visit: those in the numbers of the evidence, in the offset on the unit, between the three that tell
/// the level.
pub(in crate::visit) fn find(
    visit: &Visit<'_>,
    numbers: Option<Slip>,
    shift: &Shift,
    found: &[LevelTold],
) -> Vec<Slip> {
    let mut slips: Vec<Slip> = numbers.into_iter().collect();
    if slips.is_empty() {
        // An offset that was typed wrong would look like one that is wrong on the unit.
        slips.extend(head::offset(visit, shift));
    }
    slips.extend(told::loop_and_room(visit, found));
    slips
}

/// Looks for a slip in the numbers of the evidence.
pub(in crate::visit) fn in_the_numbers(visit: &Visit<'_>) -> Option<Slip> {
    let Visit { draft, known, conditions, entries } = visit;
    let mut built = build(draft, known, conditions, entries, Timing::Before)?.ok()?;
    let register = built.by_register(known);
    let scene = scene::scene(visit, &built, register);
    let found = look(&built.case, &scene)?;
    Some(numbers::told(visit, &built, &scene, &found))
}
