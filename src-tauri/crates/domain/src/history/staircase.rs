//! The next interval, by the staircase of ILAC-G24 / OIML D 10 (method 1).
//!
//! After each visit the interval is extended where the error as found was well within the limit, kept where it was
//! within, and reduced where it was not. The guide names 80 % as an example of *well within*; it gives no factors.
//! Those here are ours and stand as data, so that a utility may set its own.

use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

use super::NotJudged;

/// A time in calendar months.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Months(pub f64);

impl Months {
    /// Days in a month, a twelfth of 365.25.
    const DAYS: f64 = 30.4375;

    /// Returns the months in so many days.
    #[must_use]
    pub fn of_days(days: f64) -> Months {
        Months(days / Months::DAYS)
    }

    /// Returns it in whole days.
    #[must_use]
    pub fn days(self) -> f64 {
        libm::round(self.0 * Months::DAYS)
    }
}

/// The rule's numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Staircase {
    /// Extend while the error is at most this part of the limit. The guide's example.
    pub extend_to: Ratio,
    /// Keep while the error is at most this part of the limit.
    pub keep_to: Ratio,
    /// What an extended interval is multiplied by. Ours.
    pub extend: Ratio,
    /// What a reduced interval is multiplied by. Ours.
    pub reduce: Ratio,
    /// Never shorter. Ours.
    pub shortest: Months,
    /// Never longer, whatever the record. Ours.
    pub longest: Months,
}

impl Default for Staircase {
    fn default() -> Staircase {
        Staircase {
            extend_to: Ratio::new::<ratio>(0.8),
            keep_to: Ratio::new::<ratio>(1.0),
            extend: Ratio::new::<ratio>(1.25),
            reduce: Ratio::new::<ratio>(0.75),
            shortest: Months(1.0),
            longest: Months(60.0),
        }
    }
}

/// What the staircase does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Act {
    /// The next interval is longer.
    Extend,
    /// It stays.
    Keep,
    /// It is shorter.
    Reduce,
    /// It begins: there is nothing yet to judge it by.
    Begin,
}

impl Act {
    /// Returns the word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Act::Extend => "extend",
            Act::Keep => "keep",
            Act::Reduce => "reduce",
            Act::Begin => "begin",
        }
    }
}

/// The next interval, with what it follows from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextInterval {
    /// Error as found over the limit.
    pub ratio: Ratio,
    /// What the rule does.
    pub act: Act,
    /// The interval it gives.
    pub next: Months,
}

impl Staircase {
    /// Returns the next interval after a visit, from the interval before it and the size of the error as found as
    /// a part of the limit.
    ///
    /// # Errors
    ///
    /// [`NotJudged`] where the error is no number or the interval not positive.
    pub fn next(&self, interval: Months, of_limit: Ratio) -> Result<NextInterval, NotJudged> {
        let part = of_limit.get::<ratio>().abs();
        if !part.is_finite() {
            return Err(NotJudged::NoError);
        }
        if !(interval.0 > 0.0 && interval.0.is_finite()) {
            return Err(NotJudged::NotPositive { what: "the interval in force" });
        }
        let act = if part <= self.extend_to.get::<ratio>() {
            Act::Extend
        } else if part <= self.keep_to.get::<ratio>() {
            Act::Keep
        } else {
            Act::Reduce
        };
        // An interval beyond the bounds is brought no nearer to them by a step that leads the other way.
        let months = match act {
            Act::Extend => (interval.0 * self.extend.get::<ratio>()).min(self.longest.0).max(interval.0),
            Act::Keep | Act::Begin => interval.0,
            Act::Reduce => (interval.0 * self.reduce.get::<ratio>()).max(self.shortest.0).min(interval.0),
        };
        Ok(NextInterval { ratio: Ratio::new::<ratio>(part), act, next: Months(months) })
    }
}
