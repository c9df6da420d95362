//! What makes a range unusable.

use thiserror::Error;

/// Why a range or a plan cannot be worked out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum RangingError {
    /// LRV and URV are the same, so nothing can be scaled between them.
    #[error("LRV and URV are the same. Enter the two ends of the range.")]
    NoSpan,
    /// A number is missing or not finite.
    #[error("{what} is not a usable number. Enter it again.")]
    NotANumber {
        /// What is not usable.
        what: &'static str,
    },
    /// A height that must be above zero is not.
    #[error("{what} must be more than zero. Check the register.")]
    NotPositive {
        /// What must be more.
        what: &'static str,
    },
}
