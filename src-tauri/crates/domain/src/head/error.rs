//! What lies outside the range of a formula.

use thiserror::Error;

use crate::quantity::Decimal;

/// Why a property cannot be worked out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum HeadError {
    /// A value lies outside the range for which a formula holds.
    #[error("{what} is {found}; this works from {from} to {to}. Check the value and its unit.")]
    OutOfRange {
        /// What lies outside.
        what: &'static str,
        /// Its value, with unit.
        found: String,
        /// Where the range begins, with unit.
        from: &'static str,
        /// Where it ends, with unit.
        to: &'static str,
    },
    /// A liquid that does not press on what is below it.
    #[error(
        "The liquid must be denser than the air beside it, and gravity positive. Check density and gravity."
    )]
    NoHead,
}

/// Refuses what is not within the limits; what is not a number is never within them.
pub(super) fn within(
    what: &'static str,
    value: f64,
    unit: &'static str,
    (low, from): (f64, &'static str),
    (high, to): (f64, &'static str),
) -> Result<f64, HeadError> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        let number = Decimal::rounded(value).map_or_else(|| value.to_string(), |number| number.to_string());
        Err(HeadError::OutOfRange { what, found: format!("{number} {unit}").trim().to_owned(), from, to })
    }
}
