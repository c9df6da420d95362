//! What level a display's reading stands for, seen from the far end of the loop.

use uom::si::f64::{Length, Pressure};

use crate::ranging::Range;

/// A range and the levels its two ends stand for.
///
/// A display in lengths shows levels itself, so its LRV and URV are the levels they name. Where the range takes
/// the standing head out, or the display shows pressure, the control room scales LRV to URV as 0 to 100 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The range as the display means it.
    pub range: Range,
    /// What the LRV stands for.
    pub low: Length,
    /// What the URV stands for.
    pub high: Length,
}

impl Scale {
    /// Returns the level that a display stands for.
    #[must_use]
    pub fn seen(&self, display: Pressure) -> Length {
        self.low + (self.high - self.low) * self.range.fraction(display)
    }

    /// Returns what the display must be off by to be seen as so much of level.
    #[must_use]
    pub fn pressure(&self, error: Length) -> Pressure {
        (self.range.urv() - self.range.lrv()) * (error / (self.high - self.low))
    }

    /// Returns the error of level that so much of pressure is seen as.
    #[must_use]
    pub fn level(&self, error: Pressure) -> Length {
        (self.high - self.low) * (error / (self.range.urv() - self.range.lrv()))
    }
}
