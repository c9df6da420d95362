//! A flow that is another one after the trim than it was before.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::{Effect, effect, state};
use crate::evidence::Reconciled;
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::{Draft, Known, When};

/// Returns what the display moved by because the flow changed since it was read as found; nothing where it is the same, or
/// where nobody can tell.
pub(in crate::visit) fn changed(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Effect {
    let state = |when| state(draft, known, entries, when);
    if state(When::Found) == state(When::Left) {
        return Effect::default();
    }
    let effect = |when| effect(draft, known, conditions, entries, when).unwrap_or_default();
    let (found, left) = (effect(When::Found), effect(When::Left));
    // One pipe is in both: what it errs by is counted twice here rather than too little.
    let half = libm::hypot(found.half.get::<pascal>(), left.half.get::<pascal>());
    Effect { by: left.by - found.by, half: Pressure::new::<pascal>(half) }
}

/// Returns what the display should show after the trim, with the level moved on and the flow changed since the reading that the
/// trim started from.
pub(in crate::visit) fn target_now(result: &Reconciled, moved: Length, flow: Effect) -> Pressure {
    result.to + result.per_metre * moved.get::<meter>() + flow.by
}
