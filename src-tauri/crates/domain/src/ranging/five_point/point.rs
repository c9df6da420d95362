//! One point of a check: what was applied, and what it showed.

use uom::si::f64::{ElectricCurrent, Pressure, Ratio};
use uom::si::ratio::{percent, ratio};

use super::FivePointError;
use crate::ranging::{Band, Range, fraction_at};

/// Which way the input was going when a point was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Run {
    /// Upwards.
    Up,
    /// Downwards.
    Down,
}

impl Run {
    /// Tells which way a point was taken from the inputs in the order they were applied: down where the input is
    /// less than the one before, up where it is more; what stays where it is goes on as before, and the first goes up.
    #[must_use]
    pub fn of_each(applied: &[Ratio]) -> Vec<Run> {
        let mut run = Run::Up;
        let mut before: Option<Ratio> = None;
        let told = applied.iter().map(|now| {
            match before {
                Some(before) if *now < before => run = Run::Down,
                Some(before) if *now > before => run = Run::Up,
                _ => {}
            }
            before = Some(*now);
            run
        });
        told.collect()
    }
}

/// One point, as parts of the span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    run: Run,
    applied: Ratio,
    shown: Ratio,
}

/// How far outside the range a point may lie: a source is not set to the last digit.
const MARGIN: f64 = 0.05;

impl Point {
    /// Returns a point from what should have been shown and what was, both as parts of the span.
    ///
    /// # Errors
    ///
    /// [`FivePointError::NotANumber`], and [`FivePointError::OutOfRange`] for an input outside the range.
    pub fn new(run: Run, applied: Ratio, shown: Ratio) -> Result<Point, FivePointError> {
        if !applied.value.is_finite() {
            return Err(FivePointError::NotANumber { what: "What was applied" });
        }
        if !shown.value.is_finite() {
            return Err(FivePointError::NotANumber { what: "What was shown" });
        }
        if !(-MARGIN..=1.0 + MARGIN).contains(&applied.get::<ratio>()) {
            #[allow(clippy::cast_possible_truncation)] // For a sentence; what is absurd saturates.
            let whole = libm::round(applied.get::<percent>()) as i64;
            return Err(FivePointError::OutOfRange { percent: whole });
        }
        Ok(Point { run, applied, shown })
    }

    /// Returns the point of a display: what it should have shown, and what it did, as the display means them.
    ///
    /// # Errors
    ///
    /// As [`Point::new`].
    pub fn by_display(
        range: &Range,
        run: Run,
        due: Pressure,
        display: Pressure,
    ) -> Result<Point, FivePointError> {
        Point::new(run, range.fraction(due), range.fraction(display))
    }

    /// Returns the point of a loop current, direct or reverse as the range is. The error is that of the value it
    /// carries: on a reversed signal a current that is too high reads too low.
    ///
    /// # Errors
    ///
    /// As [`Point::new`], and [`FivePointError::NotMeasuring`] for a current that carries no value (NE 43).
    pub fn by_current(
        range: &Range,
        run: Run,
        due: Pressure,
        current: ElectricCurrent,
    ) -> Result<Point, FivePointError> {
        if !current.value.is_finite() {
            return Err(FivePointError::NotANumber { what: "The current" });
        }
        let band = Band::of(current);
        if !band.measures() {
            return Err(FivePointError::NotMeasuring { says: band.says() });
        }
        Point::new(run, range.fraction(due), fraction_at(current, range.action()))
    }

    /// Returns which way the input was going.
    #[must_use]
    pub fn run(&self) -> Run {
        self.run
    }

    /// Returns what was applied.
    #[must_use]
    pub fn applied(&self) -> Ratio {
        self.applied
    }

    /// Returns the error: shown less applied, with its sign.
    #[must_use]
    pub fn error(&self) -> Ratio {
        self.shown - self.applied
    }

    /// Returns the place it belongs to: the quarter of the span it lies nearest to, 0 to 4.
    pub(super) fn place(&self) -> u8 {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Held to 0..=4.
        let place = libm::round(self.applied.get::<ratio>() * 4.0).clamp(0.0, 4.0) as u8;
        place
    }

    /// Tells whether it was taken where its place is, and not only nearer to it than to another.
    pub(super) fn on_place(&self) -> bool {
        (self.applied.get::<ratio>() - f64::from(self.place()) / 4.0).abs() <= MARGIN + 1e-12
    }
}
