//! Why a five-point check gives no number.

use thiserror::Error;

/// What is wrong with a check, a point of it, or what it is judged by.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum FivePointError {
    /// There is no point at all.
    #[error("There is no point yet. Apply a pressure and enter what the instrument shows.")]
    NoPoints,
    /// A number is not finite.
    #[error("{what} is not a usable number. Enter it again.")]
    NotANumber {
        /// What is not usable.
        what: &'static str,
    },
    /// A point lies outside the range.
    #[error("{percent} % of the range is outside it. Apply between 0 and 100 %, and check the unit.")]
    OutOfRange {
        /// Where it lies, in percent of the span, rounded.
        percent: i64,
    },
    /// The current carries no measured value.
    #[error("This current is no level: {says} Leave it out and look for the cause.")]
    NotMeasuring {
        /// What the current says.
        says: &'static str,
    },
    /// A number that must be above zero is not.
    #[error("{what} must be more than zero. Check it.")]
    NotPositive {
        /// What must be more.
        what: &'static str,
    },
}
