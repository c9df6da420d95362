//! The two ways to range a transmitter, and what everyone sees under each.

use uom::si::f64::{ElectricCurrent, Length, Pressure, Ratio};
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

use super::{Action, Range, RangingError};
use crate::head::mounting::Installed;

/// Plans both ways to range an installed transmitter, for a sensor that reads `zero_error` with both sides at
/// atmosphere (zero where nobody knows).
///
/// # Errors
///
/// [`RangingError`] where the two ends of a range meet or are no numbers.
pub fn ways(
    installed: &Installed,
    action: Action,
    zero_error: Pressure,
) -> Result<[RangePlan; 2], RangingError> {
    let plan = |way| plan(installed, way, action, zero_error);
    Ok([plan(Way::Trimmed)?, plan(Way::Raw)?])
}

fn plan(
    installed: &Installed,
    way: Way,
    action: Action,
    zero_error: Pressure,
) -> Result<RangePlan, RangingError> {
    let head = installed.standing_head();
    let span = installed.per_level().pressure(installed.span());
    let (lrv, offset) = match way {
        Way::Trimmed => (Pressure::new::<pascal>(0.0), -(head + zero_error)),
        Way::Raw => (head, -zero_error),
    };
    let range = Range::new(lrv, lrv + span, action)?;
    let at_zero = head + zero_error + offset;
    let points = [0.0, 0.25, 0.5, 0.75, 1.0].map(|part| shown(installed, &range, part, at_zero));
    Ok(RangePlan { way, range, offset, points })
}

/// What is shown at a part of the span, with the display at `at_zero` when the tank is at zero.
fn shown(installed: &Installed, range: &Range, part: f64, at_zero: Pressure) -> Shown {
    let level = installed.span() * part;
    let display = at_zero + installed.per_level().pressure(level);
    let current = range.current(display);
    let control_room = installed.span() * range.fraction(display);
    Shown { fraction: Ratio::new::<ratio>(part), level, display, current, control_room }
}

/// A way to range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// The offset takes the standing head out; LRV and URV are levels.
    Trimmed,
    /// The range takes it out: the LRV stands at the standing head, the display shows the riser too.
    Raw,
}

/// One way to range, with what everyone will see. The control room scales 0 to 100 % as level 0 to span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RangePlan {
    /// Which way.
    pub way: Way,
    /// LRV and URV, signed.
    pub range: Range,
    /// The *total* offset the unit then carries.
    pub offset: Pressure,
    /// What is shown at 0, 25, 50, 75 and 100 % of the span.
    pub points: [Shown; 5],
}

/// What is shown at one level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// Part of the span.
    pub fraction: Ratio,
    /// The level.
    pub level: Length,
    /// The display.
    pub display: Pressure,
    /// The loop current.
    pub current: ElectricCurrent,
    /// The level the control room shows.
    pub control_room: Length,
}
