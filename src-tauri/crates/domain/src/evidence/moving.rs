//! A level that moves between the reading and the dip.
//!
//! Read, dip, read: the two readings give the rate, the equations carry the dip to each reading's time, and the
//! damping shows a moving level late. What a straight line between two readings may miss is an input of its own.

use uom::si::f64::{Length, Pressure, Time, Velocity};

use super::Spread;

/// A reading before and a reading after a dip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// The display before.
    pub before: Pressure,
    /// The display after.
    pub after: Pressure,
    /// Time from the reading before to the dip.
    pub until_dip: Time,
    /// Time from the dip to the reading after.
    pub since_dip: Time,
    /// What a metre of liquid presses.
    pub per_metre: Pressure,
}

impl Bracket {
    /// Returns how much the level changed from the first reading to the second.
    #[must_use]
    pub fn change(&self) -> Length {
        let metres = (self.after - self.before) / self.per_metre;
        Length::new::<uom::si::length::meter>(metres.value)
    }

    /// Returns how fast the level moved, where the readings are apart in time.
    #[must_use]
    pub fn rate(&self) -> Option<Velocity> {
        let apart = self.until_dip + self.since_dip;
        (apart.value > 0.0).then(|| self.change() / apart)
    }

    /// Returns the reading that belongs to the dip's moment, on the straight line between the two.
    #[must_use]
    pub fn at_dip(&self) -> Pressure {
        let apart = self.until_dip + self.since_dip;
        let part = if apart.value > 0.0 { (self.until_dip / apart).value } else { 0.5 };
        self.before + (self.after - self.before) * part
    }

    /// Returns what the straight line may miss: a rectangle of a quarter of the change. A level that only rose
    /// or only fell lay between its ends, so half the change is the most it can be off in the middle; a pump
    /// that started or stopped at the worst moment would make it that, and half of that is allowed for.
    #[must_use]
    pub fn straightness(&self) -> Spread<Length> {
        Spread::Rectangular(self.change().abs() * 0.25)
    }

    /// Tells whether the change between the readings may be left out: not more than a third of a bound, the
    /// uncertainty the shift would have anyway.
    #[must_use]
    pub fn still(&self, bound: Length) -> bool {
        self.change().abs() <= bound / 3.0
    }

    /// Returns by how much the display shows a moving level late: rate times the damping's time constant.
    #[must_use]
    pub fn late(&self, damping: Time) -> Option<Length> {
        self.rate().map(|rate| rate * damping)
    }
}
