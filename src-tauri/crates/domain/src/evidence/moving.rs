//! A level that moves while it is measured, and moves on after that.
//!
//! Read, dip, read: the equations of a case carry the dip to each reading's time. What a straight line between two readings
//! may miss is an input of its own. How fast the level moves on is told only where the two readings differ by more than
//! their digits and their scatter explain: the last digit of a tank that stands still flickers, too.

use uom::si::f64::{Length, Time, Velocity};
use uom::si::length::meter;
use uom::si::velocity::meter_per_second;

use super::Spread;

/// A change of less than this many times its own doubt is none, as for the drift of a series.
const MOVES: f64 = 3.0;

/// Numbers that are written with the same digits differ by whole steps, but for the rounding of the machine.
const ROUNDING: f64 = 1.0 + 1e-6;

/// The display before and after a reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// How much the level changed from one reading to the other, as displayed.
    pub change: Length,
    /// The last digit of each reading.
    pub digits: [Length; 2],
    /// The standard deviation of one reading, where a series tells it.
    pub scatter: Length,
    /// The time from one reading to the other.
    pub apart: Time,
}

impl Bracket {
    /// Tells whether digits and scatter explain the change: not more than the last digits of both together, or than three
    /// times the scatter of a difference.
    #[must_use]
    pub fn still(&self) -> bool {
        self.change.abs() <= self.explained()
    }

    /// Returns how fast the level moves; none where it may as well stand, or where no time lies between the readings.
    #[must_use]
    pub fn rate(&self) -> Option<Rate> {
        let [before, after] = self.digits;
        let digits = both(before, after) / libm::sqrt(12.0);
        let standard = both(digits, self.scatter * std::f64::consts::SQRT_2);
        let told = self.apart.value > 0.0 && !self.still();
        told.then(|| Rate { value: self.change / self.apart, standard: standard / self.apart })
    }

    /// Tells whether the readings speak against a rate: they stand, and at that rate they would not.
    #[must_use]
    pub fn denies(&self, rate: &Rate) -> bool {
        self.still() && (rate.value * self.apart).abs() > self.explained()
    }

    fn explained(&self) -> Length {
        let [before, after] = self.digits;
        let scatter = self.scatter * (MOVES * std::f64::consts::SQRT_2);
        (before + after).max(scatter) * ROUNDING
    }
}

/// Returns what a straight line may miss of a level that changed by so much: a rectangle of a quarter of it. A level that
/// only rose or only fell lay between its ends, so half the change is the most it can be off in the middle; a pump that
/// started or stopped at the worst moment would make it that, and half of that is allowed for.
#[must_use]
pub fn straightness(change: Length) -> Spread<Length> {
    if change == Length::default() { Spread::Exact } else { Spread::Rectangular(change.abs() * 0.25) }
}

/// How fast a level moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// The rate.
    pub value: Velocity,
    /// Its standard uncertainty.
    pub standard: Velocity,
}

/// What has become of a level since it was read.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moved {
    /// How far it is taken to have moved.
    pub by: Length,
    /// The standard uncertainty of that.
    pub standard: Length,
    /// True where the rate is too old to be followed to the end.
    pub too_long: bool,
}

impl Rate {
    /// Returns a rate as displayed: what a second adds, and its standard uncertainty.
    #[must_use]
    pub fn a_second(by: Length, standard: Length) -> Rate {
        let metres = |length: Length| Velocity::new::<meter_per_second>(length.get::<meter>());
        Rate { value: metres(by), standard: metres(standard) }
    }

    /// Returns how far the level has moved after a time, when a rate is followed for `at_most`. Beyond that it is left where it
    /// was, and may be anywhere between there and where the rate would have taken it.
    #[must_use]
    pub fn over(&self, time: Time, at_most: Time) -> Moved {
        let time = time.max(Time::default());
        let followed = time.min(at_most);
        let (by, beyond) = (self.value * followed, self.value * (time - followed));
        // A pump may start or stop at any time: a quarter of the change, as between two readings.
        let half = by.abs() * 0.25 + beyond.abs();
        let standard = both(half / libm::sqrt(3.0), self.standard * time);
        Moved { by, standard, too_long: time > at_most }
    }
}

fn both(one: Length, other: Length) -> Length {
    Length::new::<meter>(libm::hypot(one.get::<meter>(), other.get::<meter>()))
}
