//! What can be wrong with a case before anything is worked out.

use thiserror::Error;

/// Why a case cannot be worked out at all. A shift that merely does not follow is not an error: see
/// [`Outcome::NotDetermined`](super::Outcome::NotDetermined).
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum EvidenceError {
    /// An input is not a finite number.
    #[error("{label} is not a number that can be used. Enter it again.")]
    NotANumber {
        /// What the input is called.
        label: String,
    },
    /// An uncertainty is negative or not a number, or its degrees of freedom are not positive.
    #[error("The uncertainty of {label} is not usable. It must be a number, zero or more.")]
    BadUncertainty {
        /// What the input is called.
        label: String,
    },
    /// An input is used where another kind of quantity is meant.
    #[error("{label} is used where another kind of quantity belongs. Check where it was entered.")]
    WrongKind {
        /// What the input is called.
        label: String,
    },
    /// A part of the case belongs to another case.
    #[error("A part of the evidence does not belong to this case. Build the case again from its own parts.")]
    Foreign,
    /// There is neither a reading nor a reference.
    #[error("There is no evidence yet. Add a reading and a reference.")]
    NoEvidence,
    /// The liquid does not press: its density is not above that of the gas beside it, or gravity is not positive.
    #[error(
        "The liquid must be denser than the gas beside it, and gravity positive. Check density and gravity."
    )]
    NoHead,
    /// The numbers are so far apart that the iteration does not settle.
    #[error(
        "The evidence contradicts itself so far that no result settles. Look for a slip in unit, sign or mark."
    )]
    DoesNotSettle,
    /// Too few repeats count to form a mean.
    #[error("No repeat counts: all are set aside or none was taken. Take another.")]
    NoRepeats,
    /// A tolerance, span or limit is not positive.
    #[error("{label} must be more than zero. Check the register.")]
    NotPositive {
        /// What it is called.
        label: String,
    },
}
