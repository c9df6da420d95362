//! What makes a mounting impossible.

use thiserror::Error;

use crate::head::HeadError;

/// Why a mounting cannot be worked out. Each names the field, as the register's `mounting` calls it.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum MountingError {
    /// A number is missing or not finite.
    #[error("{field}: this is not a usable number. Enter it again.")]
    NotANumber {
        /// Which field.
        field: &'static str,
    },
    /// A height that its mounting does not allow.
    #[error("{field}: {what}")]
    Impossible {
        /// Which field.
        field: &'static str,
        /// What is impossible about it, and what to check.
        what: &'static str,
    },
    /// A density that is not positive, or not on the right side of another.
    #[error("{field}: {what}")]
    Density {
        /// Which field.
        field: &'static str,
        /// What is wrong with it, and what to check.
        what: &'static str,
    },
    /// A density that cannot be worked out at its temperature.
    #[error("{field}: {source}")]
    Head {
        /// Which field.
        field: &'static str,
        /// Why.
        source: HeadError,
    },
}

impl MountingError {
    /// Returns the field it is about.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            MountingError::NotANumber { field }
            | MountingError::Impossible { field, .. }
            | MountingError::Density { field, .. }
            | MountingError::Head { field, .. } => field,
        }
    }
}
