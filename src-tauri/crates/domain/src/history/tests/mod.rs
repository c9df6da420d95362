//! The history by hand: lines, steps and intervals that a pocket calculator follows.

mod bad_input;
mod drifts;
mod intervals;
mod steps;

use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;
use uom::si::time::day;

use super::Seen;

/// A visit so many years of 365.25 days after the first.
fn seen(years: f64, offset: f64, standard: f64) -> Seen {
    Seen {
        at: Time::new::<day>(365.25 * years),
        offset: Pressure::new::<pascal>(offset),
        standard: Some(Pressure::new::<pascal>(standard)),
        serial: String::new(),
        moved: false,
    }
}
