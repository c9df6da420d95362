//! One earlier visit, as the history sees it.

use uom::si::f64::{Length, Pressure, Time};

use crate::head::Gradient;

/// A visit's standing offset.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// When, counted from any moment that is the same for all.
    pub at: Time,
    /// The total offset that the day's evidence called for, at the common density.
    pub offset: Pressure,
    /// Its standard uncertainty; none where none was stated.
    pub standard: Option<Pressure>,
    /// The unit's serial number; empty when unknown, and then taken as the one before.
    pub serial: String,
    /// True where the transmitter was moved or mounted anew before this visit.
    pub moved: bool,
}

/// Why a history starts anew at a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fresh {
    /// Another unit was fitted.
    UnitChanged,
    /// The transmitter was moved.
    Moved,
}

impl Seen {
    /// Tells whether the history starts anew here, after units with the serials before.
    pub(super) fn fresh(&self, serial_before: &str) -> Option<Fresh> {
        let (now, before) = (self.serial.trim(), serial_before.trim());
        let changed = !now.is_empty() && !before.is_empty() && !now.eq_ignore_ascii_case(before);
        if changed { Some(Fresh::UnitChanged) } else { self.moved.then_some(Fresh::Moved) }
    }
}

/// Returns a standing offset as it would have been at another density: only the part that the riser presses
/// follows the density, the sensor's own zero does not.
#[must_use]
pub fn at_common_density(offset: Pressure, riser: Length, day: Gradient, common: Gradient) -> Pressure {
    offset + day.pressure(riser) - common.pressure(riser)
}
