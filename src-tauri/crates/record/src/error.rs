//! What can be wrong with bytes that claim to be records.

use thiserror::Error;

use crate::cbor::Flaw;
use crate::{EntryId, LogId, Seq};

/// The part of an entry or export that an error is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The two byte strings around everything.
    Entry,
    /// The COSE_Sign1.
    Header,
    /// The map that is signed.
    Payload,
    /// The body.
    Body,
    /// The exported file as a whole.
    Export,
    /// Something signed outside a chain.
    Signed,
}

impl std::fmt::Display for Part {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(match self {
            // What people read is called a record.
            Part::Entry => "record",
            Part::Header => "record's header",
            Part::Payload => "record's payload",
            Part::Body => "record's body",
            Part::Export => "exported file",
            Part::Signed => "signed message",
        })
    }
}

/// Why something was refused. No message holds what a record says, only where it is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Error {
    /// The bytes are not deterministic CBOR.
    #[error(
        "The {part} is not in the one permitted form: at byte {at}, {flaw}. It was damaged or written by other software; fetch it again from where it came."
    )]
    Cbor {
        /// Which part.
        part: Part,
        /// Where in it.
        at: usize,
        /// What is wrong there.
        flaw: Flaw,
    },
    /// It is CBOR, but not what stands in this place.
    #[error(
        "The {part} is not of this format: {what}. It was damaged or written by other software; fetch it again from where it came."
    )]
    Malformed {
        /// Which part.
        part: Part,
        /// What was expected.
        what: &'static str,
    },
    /// It is larger than the format permits.
    #[error(
        "The {part} has {length} bytes and {limit} is the most. Shorten the longest notes, or put what they tell into a second visit; what was entered is still here."
    )]
    TooLong {
        /// Which part.
        part: Part,
        /// Its length.
        length: usize,
        /// The most there may be.
        limit: usize,
    },
    /// The body is not the one that was signed.
    #[error("The body of {0} is not the one that was signed. Do not rely on it; fetch the record again.")]
    BodyChanged(EntryId),
    /// The bytes are not an Ed25519 public key in the permitted form.
    #[error("This is not a usable signing key ({0}). Ask for the export or certificate again.")]
    NotAKey(&'static str),
    /// The key is not the one whose log this is.
    #[error("{entry} was not signed with key {key}. Verify it with the key of whoever signed it.")]
    OtherKey {
        /// The entry.
        entry: EntryId,
        /// The log that the key given would sign.
        key: LogId,
    },
    /// The signature does not hold.
    #[error("The signature of {0} does not hold. It was changed after signing; do not rely on it.")]
    BadSignature(EntryId),
    /// Something signed outside a chain names another key's log than that of the key at hand.
    #[error(
        "This was signed with key {signed} and not with key {key}. Verify it with the key of whoever signed it."
    )]
    OtherSigner {
        /// The log that it names.
        signed: LogId,
        /// The log that the key given would sign.
        key: LogId,
    },
    /// The signature over something outside a chain does not hold.
    #[error(
        "The signature in the name of key {0} does not hold. Do not rely on what it stands under; fetch it again."
    )]
    SignatureOf(LogId),
    /// The signer could not or would not sign.
    #[error("The signing key could not be used: {0}. Unlock the phone and sign again; nothing is lost.")]
    NotSigned(String),
    /// Two entries are of different logs, where one log is expected.
    #[error(
        "{found} stands among records of key {expected}. Export or send the records of each key by themselves."
    )]
    OtherLog {
        /// The log of the others.
        expected: LogId,
        /// The entry of another log.
        found: EntryId,
    },
    /// An entry does not stand behind the one before it.
    #[error("{found} stands behind place {after}. Records go upwards by place; fetch the file again.")]
    OutOfOrder {
        /// The place before.
        after: Seq,
        /// The entry out of order.
        found: EntryId,
    },
    /// An entry names another payload as the one before it.
    #[error(
        "{0} does not name the record before it as its forerunner. One of the two was replaced; keep both and report it."
    )]
    BrokenChain(EntryId),
    /// The log has no place left.
    #[error("No place is left for another record of this key. Give whoever signs a new key.")]
    LogFull,
    /// A piece of CBOR could not be written; with a vector as the target that does not happen.
    #[error("The record could not be written: {0}. Try again; what was entered is still here.")]
    Writing(String),
}

impl From<minicbor::encode::Error<std::convert::Infallible>> for Error {
    fn from(error: minicbor::encode::Error<std::convert::Infallible>) -> Error {
        Error::Writing(error.to_string())
    }
}
