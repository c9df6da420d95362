//! The display to trim to while the level moves on.
//!
//! What the trim adds stays the same; what the display shows, and so what it is to show, moves with the level. The rate
//! was measured once: the longer ago that was, the less sure the target.

use uom::si::f64::{Pressure, Time};
use uom::si::time::second;

use super::{Advised, Assessment, Draft, Key, Moment, Spot};
use crate::evidence::Reconciled;

/// Where display and target stand at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
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
        let from = self.shift.read_at?;
        #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit.
        let elapsed = Time::new::<second>((at.0 - from.0).max(0) as f64 / 1000.0);
        let moves = |time: Time| self.conditions.gradient.pressure(rate * time);
        let moved = moves(elapsed);
        // A pump may start or stop at any time: a quarter of the change, as between two readings, and taken as a rectangle.
        let half = moved.value * 0.25;
        let expanded = libm::hypot(result.shift.expanded.value, 1.96 * half / libm::sqrt(3.0));
        let target = Target {
            at,
            from: result.from + moved,
            to: result.to + moved,
            by: result.shift.value,
            expanded: Pressure::new::<uom::si::pressure::pascal>(expanded),
            a_minute: moves(Time::new::<uom::si::time::minute>(1.0)),
        };
        // A rate that moves nothing in an hour is none.
        (moves(Time::new::<uom::si::time::hour>(1.0)).value.abs() > 1.0).then_some(target)
    }
}
