//! How far a value may be off, and in what way.

use serde::{Deserialize, Serialize};

/// How far a value may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread<Q> {
    /// Exactly known.
    Exact,
    /// Normal, stated as a standard uncertainty.
    Standard(Q),
    /// Normal, stated as an expanded uncertainty with its coverage factor.
    Expanded {
        /// The stated half-width.
        half: Q,
        /// The coverage factor it was stated with.
        factor: f64,
    },
    /// Anywhere within a half-width, all alike: a display step, a limit.
    Rectangular(Q),
    /// Within a half-width, rather near the middle: a sum or difference of two like rectangles.
    Triangular(Q),
    /// Within a half-width, rather near the ends: something that swings.
    Arcsine(Q),
    /// From repeats: the standard uncertainty of the mean with its degrees of freedom.
    Repeats {
        /// Standard uncertainty of the mean.
        standard: Q,
        /// Degrees of freedom.
        freedom: f64,
    },
}

impl<Q> Spread<Q> {
    pub(super) fn map<R>(self, convert: impl Fn(Q) -> R) -> Spread<R> {
        match self {
            Spread::Exact => Spread::Exact,
            Spread::Standard(q) => Spread::Standard(convert(q)),
            Spread::Expanded { half, factor } => Spread::Expanded { half: convert(half), factor },
            Spread::Rectangular(q) => Spread::Rectangular(convert(q)),
            Spread::Triangular(q) => Spread::Triangular(convert(q)),
            Spread::Arcsine(q) => Spread::Arcsine(convert(q)),
            Spread::Repeats { standard, freedom } => Spread::Repeats { standard: convert(standard), freedom },
        }
    }
}

impl Spread<f64> {
    /// Returns the stated half-width or standard uncertainty.
    pub(super) fn stated(self) -> f64 {
        match self {
            Spread::Exact => 0.0,
            Spread::Standard(q) | Spread::Rectangular(q) | Spread::Triangular(q) | Spread::Arcsine(q) => q,
            Spread::Expanded { half, .. } => half,
            Spread::Repeats { standard, .. } => standard,
        }
    }

    /// Returns what the stated number is divided by to give a standard uncertainty.
    pub(super) fn divisor(self) -> f64 {
        match self {
            Spread::Exact | Spread::Standard(_) | Spread::Repeats { .. } => 1.0,
            Spread::Expanded { factor, .. } => factor,
            Spread::Rectangular(_) => libm::sqrt(3.0),
            Spread::Triangular(_) => libm::sqrt(6.0),
            Spread::Arcsine(_) => libm::sqrt(2.0),
        }
    }

    /// Returns the degrees of freedom; infinite where the spread is stated as known.
    pub(super) fn freedom(self) -> f64 {
        match self {
            Spread::Repeats { freedom, .. } => freedom,
            _ => f64::INFINITY,
        }
    }

    pub(super) fn distribution(self) -> Distribution {
        match self {
            Spread::Exact => Distribution::Exact,
            Spread::Standard(_) | Spread::Expanded { .. } => Distribution::Normal,
            Spread::Rectangular(_) => Distribution::Rectangular,
            Spread::Triangular(_) => Distribution::Triangular,
            Spread::Arcsine(_) => Distribution::Arcsine,
            Spread::Repeats { .. } => Distribution::Student,
        }
    }
}

/// The shape of what a value may be off by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Distribution {
    /// None: exactly known.
    Exact,
    /// Normal.
    Normal,
    /// Rectangular.
    Rectangular,
    /// Triangular.
    Triangular,
    /// Arcsine.
    Arcsine,
    /// Student's t, from repeats.
    Student,
}

impl Distribution {
    /// Returns its name as it stands in a budget.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Distribution::Exact => "exact",
            Distribution::Normal => "normal",
            Distribution::Rectangular => "rectangular",
            Distribution::Triangular => "triangular",
            Distribution::Arcsine => "arcsine",
            Distribution::Student => "t",
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::Spread;

    /// Half-widths over their standard uncertainties: roots of 3, 6 and 2 (JCGM 100:2008, 4.3.7 and 4.3.9; JCGM 101:2008,
    /// Table 1).
    #[rstest]
    #[case(Spread::Exact, "exact", 0.0, 1.0)]
    #[case(Spread::Standard(2.0), "normal", 2.0, 1.0)]
    #[case(Spread::Expanded { half: 2.0, factor: 1.96 }, "normal", 2.0, 1.96)]
    #[case(Spread::Rectangular(2.0), "rectangular", 2.0, 1.732_050_807_6)]
    #[case(Spread::Triangular(2.0), "triangular", 2.0, 2.449_489_742_8)]
    #[case(Spread::Arcsine(2.0), "arcsine", 2.0, core::f64::consts::SQRT_2)]
    #[case(Spread::Repeats { standard: 2.0, freedom: 3.0 }, "t", 2.0, 1.0)]
    fn a_spread_is_named_and_divided(
        #[case] spread: Spread<f64>,
        #[case] name: &str,
        #[case] stated: f64,
        #[case] divisor: f64,
    ) {
        assert_eq!(spread.distribution().name(), name);
        assert!((spread.stated() - stated).abs() < 1e-12);
        assert!((spread.divisor() - divisor).abs() < 1e-9);
    }
}
