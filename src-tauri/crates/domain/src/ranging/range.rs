//! A range, and the current that carries a value on it.

use uom::si::electric_current::milliampere;
use uom::si::f64::{ElectricCurrent, Pressure, Ratio};
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

use super::RangingError;

/// Which end of the range 4 mA stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Action {
    /// 4 mA at the LRV, 20 mA at the URV.
    Direct,
    /// 20 mA at the LRV, 4 mA at the URV.
    Reverse,
}

/// Returns the current for a fraction of the range: 0 at the LRV, 1 at the URV. Nothing is clipped.
#[must_use]
pub fn current_at(fraction: Ratio, action: Action) -> ElectricCurrent {
    let fraction = fraction.get::<ratio>();
    ElectricCurrent::new::<milliampere>(match action {
        Action::Direct => 4.0 + 16.0 * fraction,
        Action::Reverse => 20.0 - 16.0 * fraction,
    })
}

/// Returns the fraction of the range that a current stands for. Nothing is clipped: an open loop, 0 mA, reads
/// -0.25.
#[must_use]
pub fn fraction_at(current: ElectricCurrent, action: Action) -> Ratio {
    let current = current.get::<milliampere>();
    Ratio::new::<ratio>(match action {
        Action::Direct => (current - 4.0) / 16.0,
        Action::Reverse => (20.0 - current) / 16.0,
    })
}

/// The two ends of a range as the display means them, and which of them 4 mA stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    lrv: Pressure,
    urv: Pressure,
    action: Action,
}

impl Range {
    /// Returns a range. The LRV may lie above the URV: that too reverses the signal.
    ///
    /// # Errors
    ///
    /// [`RangingError::NoSpan`] where the ends meet, [`RangingError::NotANumber`] where one is not finite.
    pub fn new(lrv: Pressure, urv: Pressure, action: Action) -> Result<Range, RangingError> {
        if !lrv.value.is_finite() || !urv.value.is_finite() {
            return Err(RangingError::NotANumber { what: "LRV or URV" });
        }
        // Below a millipascal the two are the same number written twice.
        if (urv - lrv).abs() < Pressure::new::<pascal>(1e-3) {
            return Err(RangingError::NoSpan);
        }
        Ok(Range { lrv, urv, action })
    }

    /// Returns the LRV, signed.
    #[must_use]
    pub fn lrv(&self) -> Pressure {
        self.lrv
    }

    /// Returns the URV, signed.
    #[must_use]
    pub fn urv(&self) -> Pressure {
        self.urv
    }

    /// Returns which end 4 mA stands for.
    #[must_use]
    pub fn action(&self) -> Action {
        self.action
    }

    /// Returns the span, never negative.
    #[must_use]
    pub fn span(&self) -> Pressure {
        (self.urv - self.lrv).abs()
    }

    /// Returns where a value lies between LRV (0) and URV (1).
    #[must_use]
    pub fn fraction(&self, value: Pressure) -> Ratio {
        (value - self.lrv) / (self.urv - self.lrv)
    }

    /// Returns the current that carries a value.
    #[must_use]
    pub fn current(&self, value: Pressure) -> ElectricCurrent {
        current_at(self.fraction(value), self.action)
    }

    /// Returns the value that a current carries.
    #[must_use]
    pub fn value(&self, current: ElectricCurrent) -> Pressure {
        self.lrv + (self.urv - self.lrv) * fraction_at(current, self.action)
    }

    /// Returns the range moved by so much, both ends alike.
    #[must_use]
    pub fn moved(&self, by: Pressure) -> Range {
        Range { lrv: self.lrv + by, urv: self.urv + by, action: self.action }
    }
}
