//! What a loop current says before it says a level: the bands of NAMUR NE 43.

use uom::si::electric_current::milliampere;
use uom::si::f64::ElectricCurrent;

/// A band of the 4-20 mA signal (NAMUR NE 43). 4.00 and 20.00 mA are values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// At or below 3.6 mA: failure information.
    FailureLow,
    /// Between 3.6 and 3.8 mA: nothing is defined there.
    GapLow,
    /// From 3.8 mA to below 4 mA: measuring, below the range.
    UnderRange,
    /// From 4 to 20 mA: measuring.
    InRange,
    /// Above 20 mA up to 20.5 mA: measuring, above the range.
    OverRange,
    /// Between 20.5 and 21 mA: nothing is defined there.
    GapHigh,
    /// At or above 21 mA: failure information.
    FailureHigh,
}

impl Band {
    /// Returns the band a current lies in. What is not a number counts as a failure.
    #[must_use]
    pub fn of(current: ElectricCurrent) -> Band {
        // To the nanoampere: 3.6 mA kept in amperes comes back a hair above 3.6.
        let milliamperes = libm::round(current.get::<milliampere>() * 1e6) / 1e6;
        match milliamperes {
            _ if milliamperes >= 21.0 => Band::FailureHigh,
            _ if milliamperes > 20.5 => Band::GapHigh,
            _ if milliamperes > 20.0 => Band::OverRange,
            _ if milliamperes >= 4.0 => Band::InRange,
            _ if milliamperes >= 3.8 => Band::UnderRange,
            _ if milliamperes > 3.6 => Band::GapLow,
            _ => Band::FailureLow,
        }
    }

    /// Returns true where the current carries a measured value.
    #[must_use]
    pub fn measures(self) -> bool {
        matches!(self, Band::UnderRange | Band::InRange | Band::OverRange)
    }

    /// Returns a stable word for it.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Band::FailureLow => "current.failure_low",
            Band::GapLow => "current.gap_low",
            Band::UnderRange => "current.under_range",
            Band::InRange => "current.in_range",
            Band::OverRange => "current.over_range",
            Band::GapHigh => "current.gap_high",
            Band::FailureHigh => "current.failure_high",
        }
    }

    /// Returns what it says, in a sentence.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Band::FailureLow => "Failure signal, low (3.6 mA or less), or an open loop: not a level.",
            Band::GapLow => "Between failure and measuring (3.6 to 3.8 mA): nothing is defined there.",
            Band::UnderRange => "Measuring, below the range (3.8 to 4 mA).",
            Band::InRange => "Measuring.",
            Band::OverRange => "Measuring, above the range (20 to 20.5 mA).",
            Band::GapHigh => "Between measuring and failure (20.5 to 21 mA): nothing is defined there.",
            Band::FailureHigh => "Failure signal, high (21 mA or more): not a level.",
        }
    }
}
