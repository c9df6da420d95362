//! A display as it was trimmed, on any other day.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};

use super::Scale;
use crate::head::Gradient;

/// A day: what the columns press at its temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// The liquid's temperature.
    pub temperature: ThermodynamicTemperature,
    /// The standing head: what they press at level zero.
    pub head: Pressure,
    /// What a metre of level adds.
    pub gradient: Gradient,
}

impl Day {
    /// Returns what they press at a level.
    #[must_use]
    pub fn at(&self, level: Length) -> Pressure {
        self.head + self.gradient.pressure(level)
    }
}

/// A display that was trimmed on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trimmed {
    /// That day.
    pub day: Day,
    /// What the display shows then with the surface at the tank's zero.
    pub at_zero: Pressure,
}

impl Trimmed {
    /// Returns a display made true at a level: it shows what `scale` wants there. An empty tank or the rule *true
    /// at zero* is the level nought.
    #[must_use]
    pub fn true_at(level: Length, day: Day, scale: &Scale) -> Trimmed {
        let wanted = scale.range.lrv() + scale.pressure(level - scale.low);
        Trimmed { day, at_zero: wanted - day.gradient.pressure(level) }
    }

    /// Returns the display moved by so much, as found or as left beside the mark.
    #[must_use]
    pub fn off_by(self, pressure: Pressure) -> Trimmed {
        Trimmed { at_zero: self.at_zero + pressure, ..self }
    }

    /// Returns what the same trim, true at a level, would have made of it on another day.
    #[must_use]
    pub fn instead_on(&self, day: Day, true_at: Length) -> Trimmed {
        let at_zero = self.at_zero + self.day.gradient.pressure(true_at) - day.gradient.pressure(true_at);
        Trimmed { day, at_zero }
    }

    /// Returns what it shows at a level on another day. What the sensor itself adds stays as it was.
    #[must_use]
    pub fn display(&self, level: Length, then: &Day) -> Pressure {
        self.at_zero + then.at(level) - self.day.head
    }

    /// Returns the error then: positive where too much is shown.
    #[must_use]
    pub fn error(&self, scale: &Scale, level: Length, then: &Day) -> Length {
        scale.seen(self.display(level, then)) - level
    }
}
