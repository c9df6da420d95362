//! The display to trim to while the level moves on.
//!
//! What the trim adds stays the same; what the display shows, and so what it is to show, moves with the level. The rate
//! was measured once: the longer ago that was, the less sure the target, and after some minutes it is not followed any more.

use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;
use uom::si::time::minute;

use super::{Advised, Assessment, Draft, Key, Moment, Remark, Spot, moving};
use crate::evidence::Reconciled;

/// Where display and target stand at a moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// The moment.
    pub at: Moment,
    /// What the display should show now, untrimmed.
    pub from: Pressure,
    /// What to trim it to.
    pub to: Pressure,
    /// What the trim adds.
    pub by: Pressure,
    /// Expanded uncertainty of `to` at the moment: that of the shift, and what may have become of the rate.
    pub expanded: Pressure,
    /// What the display moves by in a minute.
    pub a_minute: Pressure,
    /// That the rate is too old to go by, where it is.
    pub read_again: Option<Remark>,
}

impl Assessment {
    /// Returns the target at a moment; none where no shift is given, no rate was measured, or the trim is done.
    #[must_use]
    pub fn target(&self, draft: &Draft, at: Moment) -> Option<Target> {
        let done = draft.answers.get(Spot::of(Key::DisplayLeft)).is_some();
        let result = self.shift.result.as_deref();
        let result = result.filter(|_| self.shift.advised != Advised::Blocked && !done)?;
        self.moved(result, at)
    }

    fn moved(&self, result: &Reconciled, at: Moment) -> Option<Target> {
        let rate = self.shift.rate?;
        let moved = moving::since(Some(rate), self.shift.read_at, Some(at));
        let presses = |length| self.conditions.gradient.pressure(length);
        let by = presses(moved.by);
        let expanded = libm::hypot(result.shift.expanded.value, 1.96 * presses(moved.standard).value);
        Some(Target {
            at,
            from: result.from + by,
            to: result.to + by,
            by: result.shift.value,
            expanded: Pressure::new::<pascal>(expanded),
            a_minute: presses(rate.value * Time::new::<minute>(1.0)),
            read_again: moving::read_again(
                &moved,
                "Read again before you trim: add a dip with the display read before and after it.",
            ),
        })
    }
}
