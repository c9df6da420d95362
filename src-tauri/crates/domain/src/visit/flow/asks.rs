//! What is asked about the flow.

use super::{Waterway, keys};
use crate::visit::asks::{Ask, Takes, one_of};
use crate::visit::conditions::Conditions;
use crate::visit::{Choice, Draft, Key, Known, Spot, Step, When};

/// Asks what runs in the riser. Whoever has said nothing about it as found is not asked again as left.
pub(in crate::visit) fn asks(draft: &Draft, known: &Known, when: When) -> Vec<Ask> {
    let silent = draft.answers.choice(Spot::of(Key::FlowInRiser)).is_none();
    if !known.may_flow() || (when == When::Left && silent) {
        return Vec::new();
    }
    let keys = keys(when);
    let ways = [Choice::FlowStill, Choice::FlowDrawing, Choice::FlowFilling, Choice::FlowNotKnown];
    let mut choices = if when == When::Left { vec![Choice::FlowAsFound] } else { Vec::new() };
    choices.extend(ways);
    let mut asked = vec![Ask::may(Spot::of(keys.state), one_of(&choices))];
    let runs = [Choice::FlowDrawing, Choice::FlowFilling];
    if draft.answers.choice(Spot::of(keys.state)).is_some_and(|choice| runs.contains(&choice)) {
        asked.push(Ask::may(Spot::of(keys.rate), Takes::Number(known.flow_unit.symbol())));
        if draft.answers.get(Spot::of(keys.rate)).is_some() {
            let from = one_of(&[Choice::RateMetered, Choice::RateEstimated]);
            asked.push(Ask::may(Spot::of(keys.from), from));
        }
    }
    asked
}

/// Puts these questions behind the levels of a step. What runs must be said where the riser's usual largest flow would
/// cost more than a third of the tolerance: then it moves the result, whoever keeps silent about it.
pub(in crate::visit) fn put_in(
    asked: &mut Vec<Ask>,
    draft: &Draft,
    (known, conditions): (&Known, &Conditions),
    step: Step,
) {
    let (when, behind) = match step {
        Step::AsFound => (When::Found, Key::ControlRoom),
        Step::AsLeft => (When::Left, Key::ControlRoomLeft),
        _ => return,
    };
    let Some(at) = asked.iter().position(|ask| ask.spot.key == behind) else { return };
    let mut flow = asks(draft, known, when);
    if let Some(first) = flow.first_mut() {
        first.required = when == When::Found && matters(known, conditions);
    }
    asked.splice(at + 1..at + 1, flow);
}

/// Tells whether what runs in the riser must be said.
pub(in crate::visit) fn matters(known: &Known, conditions: &Conditions) -> bool {
    Waterway::of(known, conditions).is_some_and(|way| way.worst() > known.level.tolerance / 3.0)
}
