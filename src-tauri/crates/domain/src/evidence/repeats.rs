//! Dips taken several times.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::{EvidenceError, Spread};

/// One repeat; one with a reason against it is kept and shown but stays out of the mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeat {
    /// The length as read.
    pub length: Length,
    /// Why it is set aside.
    pub set_aside: Option<String>,
}

impl Repeat {
    /// Returns a repeat that counts.
    #[must_use]
    pub fn counting(length: Length) -> Repeat {
        Repeat { length, set_aside: None }
    }
}

/// What repeats amount to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeats {
    /// Mean of those that count.
    pub mean: Length,
    /// How many count.
    pub count: usize,
    /// How many are set aside.
    pub set_aside: usize,
    /// Standard deviation of one repeat; none where only one counts.
    pub deviation: Option<Length>,
    /// Largest less smallest.
    pub range: Length,
    /// How far the mean may be off by scatter.
    pub spread: Spread<Length>,
    /// True when one repeat has to lean on the usual scatter: say so.
    pub by_usual: bool,
}

impl Repeats {
    /// Takes the mean of the repeats that count. A single one shows no scatter: then `usual`, the standard
    /// deviation of one dip here as a rule, stands in.
    ///
    /// # Errors
    ///
    /// [`EvidenceError::NoRepeats`] where none counts; [`EvidenceError::NotANumber`] for what is not a number.
    pub fn of(repeats: &[Repeat], usual: Length) -> Result<Repeats, EvidenceError> {
        if repeats.iter().any(|one| !one.length.value.is_finite()) {
            return Err(EvidenceError::NotANumber { label: "A repeat".to_owned() });
        }
        let values: Vec<f64> =
            repeats.iter().filter(|one| one.set_aside.is_none()).map(|one| one.length.value).collect();
        if values.is_empty() {
            return Err(EvidenceError::NoRepeats);
        }
        let number = count(values.len());
        let mean = values.iter().sum::<f64>() / number;
        let largest = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let smallest = values.iter().copied().fold(f64::INFINITY, f64::min);
        let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
        let by_usual = values.len() == 1;
        let deviation = (!by_usual).then(|| libm::sqrt(squares / (number - 1.0)));
        Ok(Repeats {
            mean: Length::new::<meter>(mean),
            count: values.len(),
            set_aside: repeats.len() - values.len(),
            deviation: deviation.map(Length::new::<meter>),
            range: Length::new::<meter>(largest - smallest),
            spread: deviation.map_or(Spread::Standard(usual), |deviation| Spread::Repeats {
                standard: Length::new::<meter>(deviation / libm::sqrt(number)),
                freedom: number - 1.0,
            }),
            by_usual,
        })
    }
}

#[allow(clippy::cast_precision_loss)] // Nobody takes 2^52 dips.
fn count(many: usize) -> f64 {
    many as f64
}

/// Whether the last three repeats belong together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Together {
    /// Fewer than three count so far.
    TooFew {
        /// How many more are wanted.
        wanted: usize,
    },
    /// They agree.
    Agree {
        /// Largest less smallest of the last three.
        range: Length,
    },
    /// They do not: take another.
    Apart {
        /// Largest less smallest of the last three.
        range: Length,
    },
}

impl Together {
    /// Returns how often three honest repeats, each with so much scatter (standard), come to lie at least so far apart, at
    /// most: any of three differences may be that large, and each has twice the variance of one repeat.
    #[must_use]
    pub fn by_chance(range: Length, scatter: Length) -> f64 {
        (3.0 * libm::erfc(range.value / (2.0 * scatter.value))).min(1.0)
    }

    /// Compares the last three repeats that count with the bound on their range.
    #[must_use]
    pub fn of(repeats: &[Repeat], bound: Length) -> Together {
        let last: Vec<f64> = repeats
            .iter()
            .rev()
            .filter(|one| one.set_aside.is_none())
            .take(3)
            .map(|one| one.length.value)
            .collect();
        if last.len() < 3 {
            return Together::TooFew { wanted: 3 - last.len() };
        }
        let largest = last.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let smallest = last.iter().copied().fold(f64::INFINITY, f64::min);
        let range = Length::new::<meter>(largest - smallest);
        // Decimal lengths differ in binary by a hair: 17.26 - 17.25 must not fail a bound of 0.01.
        if range.value <= bound.value + 1e-9 { Together::Agree { range } } else { Together::Apart { range } }
    }
}
