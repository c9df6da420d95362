//! The offset on the unit against the standing head it is there for.

use super::find::Visit;
use super::{Slip, SlipCause};
use crate::evidence::slips::{OffsetState, offset_state};
use crate::visit::advice::Shift;
use crate::visit::{Choice, Doubt, Key, Show, Spot, Step};

/// Tells an offset that has the other sign, stands twice, or is not there though it was said to be.
pub(super) fn offset(visit: &Visit<'_>, shift: &Shift) -> Option<Slip> {
    let result = shift.result.as_deref().filter(|result| !result.leans_on_allowance)?;
    let said = visit.draft.answers.choice(Spot::of(Key::StandingHeadAt))?;
    let in_offset = visit.known.plan == Choice::HeadInOffset;
    let at_zero = -result.shift.value;
    let standing = visit.conditions.installed.standing_head();
    let tolerance = visit.conditions.gradient.pressure(visit.known.level.tolerance);
    let state = offset_state(at_zero, result.shift.expanded, standing, tolerance)?;
    let unsaid = said == Choice::HeadInOffset || state != OffsetState::Missing;
    let cleared = visit.draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday);
    if !in_offset || !unsaid || cleared {
        return None;
    }
    let show = Show::new(visit.known, visit.conditions.gradient);
    Some(Slip {
        doubt: Doubt::SlipOffset,
        step: Step::AsFound,
        piece: None,
        seen: format!("With the tank at its zero the display would show {}.", show.reading(at_zero)),
        expected: format!(
            "With the standing head of {} taken out by the offset it should show {}.",
            show.reading(standing),
            show.reading(visit.known.zero_reading(visit.conditions.gradient))
        ),
        causes: vec![cause(state)],
        apart: "Read the offset on the unit, with its sign, before you trim: the trim itself is right either way."
            .into(),
    })
}

fn cause(state: OffsetState) -> SlipCause {
    let (code, what, why) = match state {
        OffsetState::OtherSign => (
            "offset_sign",
            "the offset was set with the wrong sign",
            "the display shows the standing head twice, as an added offset makes it do",
        ),
        OffsetState::Twice => (
            "offset_twice",
            "the standing head was taken out twice",
            "the display lacks the standing head once more than it should",
        ),
        OffsetState::Missing => (
            "offset_missing",
            "the offset is not in force, or was cleared",
            "the display shows just the standing head too much",
        ),
    };
    let tell = "Read the offset on the unit and compare it with the standing head, sign and all.";
    SlipCause { code, what: what.into(), why: why.into(), tell: tell.into() }
}
