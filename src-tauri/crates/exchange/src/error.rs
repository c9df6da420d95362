//! What can go wrong in an exchange.

use thiserror::Error as Thrown;

/// Why something of an exchange was refused. No message holds what a record says.
#[derive(Debug, Clone, PartialEq, Eq, Thrown)]
pub enum Error {
    /// The bytes are no such message.
    #[error("What came is not a message of this exchange ({0}). Try again; if it comes back, update.")]
    Malformed(String),
    /// A message could not be written; with a vector as the target that does not happen.
    #[error("A message could not be written ({0}). Try again; nothing is lost.")]
    Writing(String),
    /// A push was made by another key than its session was given to, or repeats one.
    #[error(
        "This message was not made by the phone that its session was given to, or it came before. Begin the exchange again."
    )]
    NotProved,
    /// The other side speaks a later version.
    #[error(
        "The other side speaks version {0} of the exchange, which is not known here. Update; nothing is lost."
    )]
    OtherProtocol(u32),
    /// The other side is not the hub that this phone belongs to.
    #[error(
        "What answered is not the hub that this phone was enrolled with. Nothing was sent to it. Check the address, or enrol the phone again."
    )]
    OtherHub,
    /// Packed bytes are larger than what is taken.
    #[error("What came unpacks to more than {most} bytes and was refused. Send it in smaller pieces.")]
    TooLarge {
        /// The most.
        most: usize,
    },
    /// Packed bytes cannot be unpacked.
    #[error("What came cannot be unpacked: it was damaged on its way. Send it again.")]
    Damaged,
    /// The text is no hub's code.
    #[error("This is no invitation of a hub. Have the hub show its code again.")]
    NotAnInvitation,
    /// The file is no bundle.
    #[error("The file is not a bundle of records: {0}. Ask for it again.")]
    NotABundle(&'static str),
    /// A bundle breaks off.
    #[error(
        "The file breaks off after {whole} whole pieces. What came whole can be taken in; ask for the file again for the rest."
    )]
    CutShort {
        /// How many pieces came whole.
        whole: usize,
    },
    /// An answer came that was not asked for.
    #[error("The exchange was already over when something came. Begin it again; nothing is lost.")]
    OutOfTurn,
    /// Something about records.
    #[error(transparent)]
    Record(#[from] record::Error),
    /// Something about bodies.
    #[error(transparent)]
    Body(#[from] bodies::Error),
}

impl Error {
    /// Returns the stable code of the error.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Error::Malformed(_) => "exchange.malformed",
            Error::Writing(_) => "exchange.writing",
            Error::NotProved => "exchange.not_proved",
            Error::OtherProtocol(_) => "exchange.other_protocol",
            Error::OtherHub => "exchange.other_hub",
            Error::TooLarge { .. } => "exchange.too_large",
            Error::Damaged => "exchange.damaged",
            Error::NotAnInvitation => "exchange.not_an_invitation",
            Error::NotABundle(_) => "exchange.not_a_bundle",
            Error::CutShort { .. } => "exchange.cut_short",
            Error::OutOfTurn => "exchange.out_of_turn",
            Error::Record(_) => "exchange.record",
            Error::Body(_) => "exchange.body",
        }
    }

    /// Returns whether the same may go well another time.
    #[must_use]
    pub fn is_retryable(&self) -> bool {
        matches!(self, Error::Malformed(_) | Error::NotProved | Error::Damaged | Error::OutOfTurn)
    }
}
