//! Several readings of one display in a row, taken as one: their mean, how much they scatter, how fast they drift. Where
//! surges stand out of them (`spikes`), the median takes the mean's place.
//!
//! Readings enter a case as one equation however many there are, so its cost does not grow with their number.

use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;

use super::{EvidenceError, Spread, spikes};

/// A display that moves less than this many times the doubt about its drift is taken to stand still.
const DRIFTS: f64 = 3.0;

/// The standard uncertainty of a median over that of a mean, of normal numbers: the root of half of pi, for many (from memory).
const MEDIAN: f64 = 1.2533;

/// How a display drifts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    slope: f64,
    standard: f64,
}

impl Drift {
    /// Returns the change over a time.
    #[must_use]
    pub fn over(&self, time: Time) -> Pressure {
        Pressure::new::<pascal>(self.slope * time.value)
    }

    /// Returns the standard uncertainty of that change.
    #[must_use]
    pub fn standard_over(&self, time: Time) -> Pressure {
        Pressure::new::<pascal>(self.standard * time.value.abs())
    }
}

/// What a series of readings amounts to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Series {
    /// How many there are.
    pub count: usize,
    /// Their mean, or their median where some stand out; where the display drifts, what the line through them shows at the
    /// last one.
    pub value: Pressure,
    /// The moment that value belongs to, on the clock of the readings.
    pub at: Time,
    /// Standard deviation of one reading, about the mean or the line.
    pub deviation: Pressure,
    /// Largest less smallest.
    pub range: Pressure,
    /// How far the value may be off by scatter.
    pub spread: Spread<Pressure>,
    /// The drift, where there are enough readings to tell one.
    pub drift: Option<Drift>,
    /// True where the drift is beyond doubt.
    pub moves: bool,
    /// How many stand out of the rest: surges. They are in the count and the range, and in no mean or line.
    pub spikes: usize,
    /// The furthest of these from the middle.
    pub furthest: Pressure,
}

impl Series {
    /// Takes readings, each with its time, as one. `step` is the display's last digit: a drift must pass two of it to be
    /// one. Readings closer together than the `damping` tell partly the same, and count for fewer.
    ///
    /// # Errors
    ///
    /// [`EvidenceError::NoRepeats`] for fewer than two; [`EvidenceError::NotANumber`] for what is not a number.
    pub fn of(readings: &[(Time, Pressure)], step: Pressure, damping: Time) -> Result<Series, EvidenceError> {
        if readings.iter().any(|(at, shown)| !at.value.is_finite() || !shown.value.is_finite()) {
            return Err(EvidenceError::NotANumber { label: "A display reading".to_owned() });
        }
        if readings.len() < 2 {
            return Err(EvidenceError::NoRepeats);
        }
        let Some(spiked) = spikes::stand_out(readings, step) else {
            return Ok(Series::of_clean(readings, step, damping));
        };
        let clean = Series::of_clean(&spiked.rest, step, damping);
        let all = Sums::of(readings);
        let told = Series {
            count: readings.len(),
            range: Pressure::new::<pascal>(all.range),
            spikes: spiked.count,
            furthest: spiked.furthest,
            ..clean
        };
        if clean.moves {
            return Ok(told);
        }
        let worth = all.worth(damping);
        let standard = MEDIAN * spiked.deviation / libm::sqrt(worth);
        Ok(Series {
            value: spiked.median,
            deviation: spiked.deviation,
            spread: Spread::Repeats { standard, freedom: (worth - 1.0).max(1.0) },
            ..told
        })
    }

    fn of_clean(readings: &[(Time, Pressure)], step: Pressure, damping: Time) -> Series {
        let sums = Sums::of(readings);
        let worth = sums.worth(damping);
        let line = sums.line(worth);
        let moves = line.is_some_and(|line| {
            let change = (line.slope * sums.window).abs();
            line.slope.abs() > DRIFTS * line.standard && change > 2.0 * step.value.abs()
        });
        match line.filter(|_| moves) {
            Some(line) => sums.along(line, worth),
            None => sums.still(line, worth),
        }
    }
}

/// The sums over a series, about its middle.
struct Sums {
    many: usize,
    count: f64,
    middle: f64,
    mean: f64,
    times: f64,
    both: f64,
    squares: f64,
    window: f64,
    last: f64,
    range: f64,
}

impl Sums {
    fn of(readings: &[(Time, Pressure)]) -> Sums {
        #[allow(clippy::cast_precision_loss)] // Nobody reads a display 2^52 times.
        let count = readings.len() as f64;
        let mean = |of: fn(&(Time, Pressure)) -> f64| readings.iter().map(of).sum::<f64>() / count;
        let (middle, level) = (mean(|one| one.0.value), mean(|one| one.1.value));
        let over = |of: &dyn Fn(f64, f64) -> f64| {
            readings.iter().map(|(at, shown)| of(at.value - middle, shown.value - level)).sum::<f64>()
        };
        let most =
            |of: fn(&(Time, Pressure)) -> f64| readings.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        let last = most(|one| one.0.value);
        Sums {
            many: readings.len(),
            count,
            middle,
            mean: level,
            times: over(&|at, _| at * at),
            both: over(&|at, shown| at * shown),
            squares: over(&|_, shown| shown * shown),
            window: last + most(|one| -one.0.value),
            last,
            range: most(|one| one.1.value) + most(|one| -one.1.value),
        }
    }

    /// How many independent readings the series is worth: a damped display forgets by `exp(-t/tau)` from one reading to
    /// the next, and `n` readings with that much in common count for `n (1 - a) / (1 + a)` (the mean of an
    /// autoregressive series of first order; from memory).
    fn worth(&self, damping: Time) -> f64 {
        let apart = self.window / (self.count - 1.0);
        let common = if damping.value > 0.0 { libm::exp(-apart / damping.value) } else { 0.0 };
        (self.count * (1.0 - common) / (1.0 + common)).max(1.0)
    }

    /// The line through the readings; none with fewer than four, or all at one time.
    fn line(&self, worth: f64) -> Option<Drift> {
        if self.many < 4 || self.times <= 0.0 {
            return None;
        }
        let slope = self.both / self.times;
        let about = (self.squares - slope * self.both).max(0.0) / (self.count - 2.0);
        Some(Drift { slope, standard: libm::sqrt(about / self.times * self.count / worth) })
    }

    fn still(&self, drift: Option<Drift>, worth: f64) -> Series {
        let deviation = libm::sqrt(self.squares / (self.count - 1.0));
        let spread =
            Spread::Repeats { standard: deviation / libm::sqrt(worth), freedom: (worth - 1.0).max(1.0) };
        self.series(self.mean, self.middle, deviation, spread, drift, false)
    }

    fn along(&self, line: Drift, worth: f64) -> Series {
        let ahead = self.last - self.middle;
        let about = (self.squares - line.slope * self.both).max(0.0) / (self.count - 2.0);
        let variance = about / worth + line.standard * line.standard * ahead * ahead;
        let spread = Spread::Repeats { standard: libm::sqrt(variance), freedom: (worth - 2.0).max(1.0) };
        self.series(self.mean + line.slope * ahead, self.last, libm::sqrt(about), spread, Some(line), true)
    }

    fn series(
        &self,
        value: f64,
        at: f64,
        deviation: f64,
        spread: Spread<f64>,
        drift: Option<Drift>,
        moves: bool,
    ) -> Series {
        Series {
            count: self.many,
            value: Pressure::new::<pascal>(value),
            at: Time::new::<uom::si::time::second>(at),
            deviation: Pressure::new::<pascal>(deviation),
            range: Pressure::new::<pascal>(self.range),
            spread: spread.map(Pressure::new::<pascal>),
            drift,
            moves,
            spikes: 0,
            furthest: Pressure::default(),
        }
    }
}
