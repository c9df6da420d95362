//! What can go wrong, in words that whoever runs the hub can act on.
//!
//! The many codes of SQLite, PostgreSQL and object stores become a handful here. Nothing was changed by the call that
//! returned an error, with one exception that [`Error::Unsure`] names.

use bodies::{PHOTO_BYTES, PhotoHash};
use record::{EntryId, LogId};

/// Why the store could not do what it was asked.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// The storage is full.
    #[error(
        "The hub's storage is full, so this was not saved. Free space on its disk; senders try again by themselves."
    )]
    Full,
    /// The address of the database cannot be used.
    #[error("The address of the database cannot be used: {what} Nothing was touched.")]
    Address {
        /// What is wrong with it, and what to write instead.
        what: String,
    },
    /// The connection to the database could not be made private, and the address asks for that.
    #[error("The connection to the database is not private: {what} No record was sent over it.")]
    NotPrivate {
        /// What was wrong, and what to do.
        what: String,
    },
    /// The database was written by a newer version.
    #[error(
        "This database was written by a newer headmark-hub (format {found}; this version knows up to {known}). \
         Nothing was touched. Install the newer version again."
    )]
    Newer {
        /// The format of the database.
        found: u32,
        /// The newest format known here.
        known: u32,
    },
    /// The database is of something else.
    #[error(
        "This database belongs to another program ({what}). Nothing was touched. Name another file or database."
    )]
    Foreign {
        /// How it was seen.
        what: String,
    },
    /// Something in the database cannot be trusted.
    #[error(
        "A part of the hub's data cannot be read ({what}). Nothing was changed. Check the disk, then restore a backup."
    )]
    Unreadable {
        /// What was found.
        what: String,
    },
    /// Another process holds the database for too long.
    #[error(
        "Another process keeps the database busy. It is tried again; if that lasts, see what else has it open."
    )]
    Busy,
    /// The database or the photo store cannot be reached.
    #[error(
        "The hub's storage cannot be reached ({what}). It is tried again; check that it runs and the network to it."
    )]
    Unreachable {
        /// What was said.
        what: String,
    },
    /// The connection broke while a change was being committed: it may stand or not. Every change of this store may
    /// be repeated without harm.
    #[error(
        "The connection broke while saving, so it is not known whether this was saved ({what}). Do it again: twice does no harm."
    )]
    Unsure {
        /// What was said.
        what: String,
    },
    /// The storage refused.
    #[error(
        "The hub's storage refused ({what}), so this was not saved. Check the disk and its permissions, then try again."
    )]
    Io {
        /// What it said.
        what: String,
    },
    /// The hub's own log, or what the entry rests on, has gone on meanwhile: another process of the hub was first.
    #[error(
        "{entry} is no longer next of what the hub signs, or what it rests on has changed. Another process was first; read again, and sign behind its last record."
    )]
    OutOfStep {
        /// The entry that was to be appended.
        entry: EntryId,
    },
    /// A log without a certificate, where one is needed.
    #[error("Key {log} has no certificate here. Enrol the device, or bring the certificate first.")]
    UnknownLog {
        /// Which.
        log: LogId,
    },
    /// A branch was asked for that is not held without a gap.
    #[error("{missing} is not held here, so the branch cannot be given. Ask again for what is held.")]
    Missing {
        /// What should stand there.
        missing: EntryId,
    },
    /// A dump is restored into a store that holds something.
    #[error(
        "This store already holds records. Restore into an empty folder or database, then point the hub at it."
    )]
    NotEmpty,
    /// A photo's bytes are not the ones that were cited.
    #[error(
        "The bytes received for photo {photo} are not that photo ({what}). They were dropped; send it again from the start."
    )]
    WrongPhoto {
        /// Which.
        photo: PhotoHash,
        /// What differs.
        what: &'static str,
    },
    /// A piece of a photo that does not lie where pieces lie.
    #[error("This is no piece of photo {photo} ({what}). Ask which pieces are missing and send those.")]
    NotAPiece {
        /// Which.
        photo: PhotoHash,
        /// What is wrong.
        what: &'static str,
    },
    /// A photo that is longer than any that is kept.
    #[error(
        "Photo {photo} is longer than the {} MiB that are kept of one. Send it no more; the record that names it stands without it.",
        PHOTO_BYTES >> 20
    )]
    PhotoTooLong {
        /// Which.
        photo: PhotoHash,
    },
    /// A photo of a length that no record says of it.
    #[error(
        "No record here says that photo {photo} has this length, so this was not taken. Send the record that does first."
    )]
    OtherLength {
        /// Which.
        photo: PhotoHash,
    },
    /// A photo that no record cites.
    #[error("No record here cites photo {photo}. Send the record first.")]
    NotCited {
        /// Which.
        photo: PhotoHash,
    },
    /// Another person has the name.
    #[error("Another person has this name. Choose another one, so that it is clear who signs in.")]
    NameTaken,
    /// A mistake of this program.
    #[error("The hub made a mistake ({what}), so this was not saved. Report it with these words.")]
    Broken {
        /// What was said.
        what: String,
    },
}

impl Error {
    /// Returns the stable code of the error, for senders, logs and tests to know it by.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Error::Full => "hubstore.full",
            Error::Address { .. } => "hubstore.address",
            Error::NotPrivate { .. } => "hubstore.not_private",
            Error::Newer { .. } => "hubstore.newer",
            Error::Foreign { .. } => "hubstore.foreign",
            Error::Unreadable { .. } => "hubstore.unreadable",
            Error::Busy => "hubstore.busy",
            Error::Unreachable { .. } => "hubstore.unreachable",
            Error::Unsure { .. } => "hubstore.unsure",
            Error::Io { .. } => "hubstore.io",
            Error::OutOfStep { .. } => "hubstore.out_of_step",
            Error::UnknownLog { .. } => "hubstore.unknown_log",
            Error::Missing { .. } => "hubstore.missing",
            Error::NotEmpty => "hubstore.not_empty",
            Error::WrongPhoto { .. } => "hubstore.wrong_photo",
            Error::NotAPiece { .. } => "hubstore.not_a_piece",
            Error::PhotoTooLong { .. } => "hubstore.photo_too_long",
            Error::OtherLength { .. } => "hubstore.other_length",
            Error::NotCited { .. } => "hubstore.not_cited",
            Error::NameTaken => "hubstore.name_taken",
            Error::Broken { .. } => "hubstore.broken",
        }
    }

    /// Returns whether the same call may succeed later, or with what it says done, without a change to Headmark.
    #[must_use]
    pub fn is_retryable(&self) -> bool {
        matches!(
            self,
            Error::Full
                | Error::NotPrivate { .. }
                | Error::Busy
                | Error::Unreachable { .. }
                | Error::Unsure { .. }
                | Error::Io { .. }
                | Error::OutOfStep { .. }
        )
    }

    pub(crate) fn broken(what: impl std::fmt::Display) -> Error {
        Error::Broken { what: what.to_string() }
    }

    pub(crate) fn unreadable(what: impl std::fmt::Display) -> Error {
        Error::Unreadable { what: what.to_string() }
    }
}

impl From<std::io::Error> for Error {
    fn from(error: std::io::Error) -> Error {
        if error.kind() == std::io::ErrorKind::StorageFull {
            return Error::Full;
        }
        Error::Io { what: error.to_string() }
    }
}
