//! What ends an exchange before its end.

use exchange::Error as Exchange;
use thiserror::Error as Thrown;

use crate::LinkError;

/// Why an exchange broke off. `E` is what the ledger or the keeper of photos gives.
#[derive(Debug, Thrown)]
pub enum Error<E: std::error::Error> {
    /// The link.
    #[error(transparent)]
    Link(#[from] LinkError),
    /// What came over it.
    #[error(transparent)]
    Exchange(#[from] Exchange),
    /// What is kept here.
    #[error("{0}")]
    Ledger(E),
}

impl<E: std::error::Error> Error<E> {
    /// Returns whether less at a time may get through where this broke off.
    #[must_use]
    pub fn gave_way(&self) -> bool {
        // What was damaged on its way has met the same link.
        match self {
            Error::Link(error) => error.gave_way(),
            Error::Exchange(error) => matches!(error, Exchange::Damaged),
            Error::Ledger(_) => false,
        }
    }

    /// Returns whether it was stopped here, so that nobody need be told of a failure.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        matches!(self, Error::Link(LinkError::Stopped))
    }
}
