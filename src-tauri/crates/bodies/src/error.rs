//! Why a body could not be written or read.

use std::convert::Infallible;

use record::cbor::Flaw;
use thiserror::Error;

/// What went wrong. No message holds what the record says.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Error {
    /// It is too long for one record.
    #[error("This {what} takes {length} bytes and a record holds {limit}. {}", shorter(what))]
    TooLong {
        /// What it is.
        what: &'static str,
        /// Its length.
        length: usize,
        /// The most there may be.
        limit: usize,
    },
    /// The body is not deterministic CBOR.
    #[error(
        "The record's body is not in the one permitted form: at byte {at}, {flaw}. It was written by other software; keep it and ask where it came from."
    )]
    Cbor {
        /// Where.
        at: usize,
        /// What is wrong there.
        flaw: Flaw,
    },
    /// The body reads, but the same content would be written differently.
    #[error(
        "The record's body says nothing wrong but is not in the one permitted form. It was written by other software; keep it and ask where it came from."
    )]
    OtherForm,
    /// The body does not hold what it must.
    #[error(
        "The record's body is not what its kind and version call for: {place} is missing or wrong. It was written by other software; keep it and ask where it came from."
    )]
    Malformed {
        /// Where, by the names in `BODIES.md`.
        place: &'static str,
    },
    /// What is to be written is not whole: no reader would take it.
    #[error(
        "This {what} cannot be written as it stands: {place} is missing or wrong. Put it right and try again; nothing is lost."
    )]
    Incomplete {
        /// What it is.
        what: &'static str,
        /// Where, by the names in `BODIES.md`.
        place: &'static str,
    },
    /// The body has a word that this version does not have.
    #[error(
        "The record's body has a word in {place} that this version does not have. It was written by other software; keep it and ask where it came from."
    )]
    UnknownWord {
        /// Where, by the names in `BODIES.md`.
        place: &'static str,
    },
    /// The body has a field that this version does not have.
    #[error(
        "The record's body has a field ({key}, in {place}) that this version does not have. It was written by other software; keep it and ask where it came from."
    )]
    UnknownField {
        /// Where.
        place: &'static str,
        /// The field's number.
        key: u64,
    },
    /// A newer program wrote it.
    #[error(
        "This record was made by a newer Headmark ({what} {number}). It is kept as it is; update to read it."
    )]
    Newer {
        /// What is unknown here.
        what: &'static str,
        /// Its number.
        number: u64,
    },
    /// The entry is of another kind than was asked for.
    #[error("This record is of kind {0} and not of the kind looked for. It is kept as it is.")]
    OtherKind(u32),
    /// A piece of CBOR could not be written; with a vector as the target that does not happen.
    #[error("The record could not be written: {0}. Try again; what was entered is still here.")]
    Writing(String),
}

/// How to get what is too long into records.
fn shorter(what: &str) -> &'static str {
    match what {
        "visit" => {
            "Shorten the longest notes or reasons, or sign this visit with fewer repeats and note the rest in a second one; nothing is lost until you change it."
        }
        _ => "Shorten its longest texts, or split it into two; nothing is lost until you change it.",
    }
}

impl Error {
    /// Says that something is missing or wrong at a place.
    pub(crate) fn at(place: &'static str) -> Error {
        Error::Malformed { place }
    }
}

impl From<minicbor::encode::Error<Infallible>> for Error {
    fn from(error: minicbor::encode::Error<Infallible>) -> Error {
        Error::Writing(error.to_string())
    }
}
