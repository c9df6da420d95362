//! An open tank over a riser: what the transmitter feels, and the two ways to range it.

use uom::si::f64::{ElectricCurrent, Length, Pressure, Ratio};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

use super::{Action, Range, RangingError};
use crate::head::Gradient;

/// The column over a transmitter: a riser and a tank, each with its own gradient, because a riser may be
/// warmer than its tank, or filled with something else.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenTank {
    /// What a metre of riser presses.
    pub riser_gradient: Gradient,
    /// What a metre of tank presses.
    pub tank_gradient: Gradient,
    /// Tank zero above the sensing point; negative where the transmitter stands above it.
    pub riser: Length,
    /// Level at 100 %, above the tank's zero.
    pub span: Length,
}

impl OpenTank {
    /// Returns the standing head: what the riser presses at level zero. Negative where the transmitter stands
    /// above the zero.
    #[must_use]
    pub fn standing_head(&self) -> Pressure {
        self.riser_gradient.pressure(self.riser)
    }

    /// Returns what the transmitter feels at a level.
    #[must_use]
    pub fn pressure_at(&self, level: Length) -> Pressure {
        self.standing_head() + self.tank_gradient.pressure(level)
    }

    /// Returns the level at which the transmitter feels a pressure.
    #[must_use]
    pub fn level_at(&self, pressure: Pressure) -> Length {
        self.tank_gradient.length(pressure - self.standing_head())
    }

    /// Plans both ways to range it, for a sensor that reads `zero_error` with both sides at atmosphere (zero
    /// where nobody knows).
    ///
    /// # Errors
    ///
    /// [`RangingError::NotPositive`] unless the span is above zero.
    pub fn ways(&self, action: Action, zero_error: Pressure) -> Result<[RangePlan; 2], RangingError> {
        if !(self.span.value > 0.0 && self.span.value.is_finite()) {
            return Err(RangingError::NotPositive { what: "The level at 100 %" });
        }
        Ok([self.plan(Way::Trimmed, action, zero_error)?, self.plan(Way::Raw, action, zero_error)?])
    }

    fn plan(&self, way: Way, action: Action, zero_error: Pressure) -> Result<RangePlan, RangingError> {
        let head = self.standing_head();
        let span = self.tank_gradient.pressure(self.span);
        let (lrv, offset) = match way {
            Way::Trimmed => (Pressure::new::<pascal>(0.0), -(head + zero_error)),
            Way::Raw => (head, -zero_error),
        };
        let range = Range::new(lrv, lrv + span, action)?;
        let points =
            [0.0, 0.25, 0.5, 0.75, 1.0].map(|part| self.shown(&range, part, head + zero_error + offset));
        Ok(RangePlan { way, range, offset, points })
    }

    /// What is shown at a part of the span, with the display at `at_zero` when the tank is at zero.
    fn shown(&self, range: &Range, part: f64, at_zero: Pressure) -> Shown {
        let level = self.span * part;
        let display = at_zero + self.tank_gradient.pressure(level);
        let current = range.current(display);
        let control_room = self.span * range.fraction(display);
        Shown { fraction: Ratio::new::<ratio>(part), level, display, current, control_room }
    }
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

/// Returns how a signed LRV is called. The two words are used in opposite senses by respected authorities, so
/// the sign and the place of the transmitter stand first and both words are explained.
#[must_use]
pub fn zero_wording(lrv: Pressure, riser: Length) -> String {
    let metres = riser.get::<meter>();
    let place = if metres > 0.0 {
        "the transmitter stands below the tank's zero"
    } else if metres < 0.0 {
        "the transmitter stands above the tank's zero"
    } else {
        "the transmitter stands at the tank's zero"
    };
    if lrv.value > 0.0 {
        format!("positive LRV: {place}; a suppressed zero (zero suppression), which some call zero elevation")
    } else if lrv.value < 0.0 {
        format!("negative LRV: {place}; an elevated zero (zero elevation), which some call zero suppression")
    } else {
        format!("LRV at zero: {place}; neither suppression nor elevation")
    }
}
