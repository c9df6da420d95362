//! What can go wrong, in words a person can act on.
//!
//! SQLite's many codes become a handful here. Anything that is not named below is [`Error::Io`] or, when it
//! can only come of a mistake of ours, [`Error::Broken`].

use std::path::PathBuf;

use rusqlite::ErrorCode;

use crate::{Place, Seq};

/// Why the store could not do what it was asked. Nothing was changed by the call that returned it.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The storage is full.
    #[error(
        "The phone's storage is full, so this was not saved. Everything saved before is safe. \
         Free some space, then do it again."
    )]
    Full,
    /// The file was written by a newer version.
    #[error(
        "The data on this phone was written by a newer version of Headmark (format {found}; this version \
         knows up to {known}). Nothing was touched. Install the newer version again."
    )]
    Newer {
        /// The format of the file.
        found: u32,
        /// The newest format known here.
        known: u32,
    },
    /// The file was damaged, or no data file, and has been put aside under another name.
    #[error(
        "The data file could not be read ({what}). It was not deleted: it is kept as {}. Headmark starts \
         with a new file and takes over what can be proved; keep the old one and hand it to whoever looks after your \
         records.",
        kept_at.display()
    )]
    Damaged {
        /// Where the file is now.
        kept_at: PathBuf,
        /// What was found.
        what: String,
    },
    /// Something inside the open file cannot be trusted.
    #[error(
        "A part of the data on this phone cannot be read ({what}). Nothing was changed. Close Headmark and \
         open it again: it then checks the whole file."
    )]
    Unreadable {
        /// What was found.
        what: String,
    },
    /// Another process has the file open.
    #[error("Another copy of Headmark has the data open. Close it, then try again.")]
    Busy,
    /// The storage refused.
    #[error(
        "The phone's storage refused ({what}), so this was not saved. Try again; then restart the phone."
    )]
    Io {
        /// What it said.
        what: String,
    },
    /// An entry that does not follow the last one of its log.
    #[error(
        "This record does not follow the last one of this phone: place {expected} comes next. \
         Open the visit again and sign it anew."
    )]
    OutOfStep {
        /// The place that comes next.
        expected: Seq,
    },
    /// The place in the log is taken by another payload.
    #[error("Another record already stands at {place}. The first one stays; report this to your supervisor.")]
    Taken {
        /// Where.
        place: Place,
    },
    /// There is no such draft.
    #[error("This visit is no longer open: it was signed or discarded. Look under the signed visits.")]
    NoDraft {
        /// The id asked for.
        id: String,
    },
    /// A register names one instrument twice.
    #[error("The register names the instrument {tag} twice. Nothing of it was loaded; correct the file.")]
    TagTwice {
        /// Its tag.
        tag: String,
    },
    /// The photo is not on this phone.
    #[error("This photo is not on this phone. It may still be on the phone that took it, or at the hub.")]
    NoPhoto,
    /// The hub has not said that the photo is in its backup.
    #[error(
        "The hub has not confirmed that this photo is in its backup, so it stays on this phone. Send it, and free the \
         space after the next backup."
    )]
    NotBackedUp,
    /// There is no place for photos.
    #[error(
        "This store was opened without a place for photos, so none was kept. Report it with these words."
    )]
    NoShelf,
    /// The register comes from the hub.
    #[error(
        "The register on this phone comes from the hub, and a file is not loaded beside it. Have the file imported at \
         the hub; it then comes with the next exchange."
    )]
    Fed,
    /// A mistake of this program.
    #[error("Headmark made a mistake ({what}), so this was not saved. Report it with these words.")]
    Broken {
        /// What SQLite said.
        what: String,
    },
}

impl Error {
    /// Returns the stable code of the error, for screens and tests to know it by.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Error::Full => "store.full",
            Error::Newer { .. } => "store.newer",
            Error::Damaged { .. } => "store.damaged",
            Error::Unreadable { .. } => "store.unreadable",
            Error::Busy => "store.busy",
            Error::Io { .. } => "store.io",
            Error::OutOfStep { .. } => "store.out_of_step",
            Error::Taken { .. } => "store.taken",
            Error::NoDraft { .. } => "store.no_draft",
            Error::TagTwice { .. } => "store.tag_twice",
            Error::NoPhoto => "store.no_photo",
            Error::NotBackedUp => "store.not_backed_up",
            Error::NoShelf => "store.no_shelf",
            Error::Fed => "store.fed",
            Error::Broken { .. } => "store.broken",
        }
    }

    /// Returns whether the same call may succeed later without anything else being put right in Headmark.
    #[must_use]
    pub fn is_retryable(&self) -> bool {
        matches!(self, Error::Full | Error::Busy | Error::Io { .. })
    }
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Error {
        let what = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Error::Full,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Error::Busy,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Error::Unreadable { what },
            Some(
                ErrorCode::ReadOnly
                | ErrorCode::SystemIoFailure
                | ErrorCode::CannotOpen
                | ErrorCode::PermissionDenied
                | ErrorCode::NoLargeFileSupport
                | ErrorCode::FileLockingProtocolFailed
                | ErrorCode::OutOfMemory,
            ) => Error::Io { what },
            Some(_) => Error::Broken { what },
            // Not from SQLite but from reading a column: text that is no UTF-8, a blob of another length.
            None => Error::Unreadable { what },
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::LogId;

    #[test]
    fn what_a_person_reads_is_called_a_record() {
        let place = Place { log: LogId([7; 32]), seq: Seq::FIRST };
        for error in [Error::OutOfStep { expected: Seq::FIRST }, Error::Taken { place }] {
            let text = error.to_string();
            assert!(text.contains("record"), "{text}");
            for word in ["entry", "entries", "log ", "ledger"] {
                assert!(!text.contains(word), "{text}");
            }
        }
    }
}
