//! Visits as the tests make them.

use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;
use uom::si::time::day;

use crate::history::Seen;

/// A visit so many years of 365.25 days after the first.
pub(super) fn seen(years: f64, offset: f64, standard: f64) -> Seen {
    Seen {
        at: Time::new::<day>(365.25 * years),
        offset: Pressure::new::<pascal>(offset),
        standard: Some(Pressure::new::<pascal>(standard)),
        serial: String::new(),
        moved: false,
    }
}
