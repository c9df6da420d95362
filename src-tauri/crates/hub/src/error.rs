//! What can go wrong in the hub, and what to do about it.

use std::path::PathBuf;

use thiserror::Error;

/// What went wrong. No message holds what a record says, a person's name or a secret.
#[derive(Debug, Error)]
pub enum Error {
    /// A file or folder could not be used.
    #[error(
        "{path} could not be {done}: {cause}. Check that the disk has space and that the hub may use this folder."
    )]
    File {
        /// Which.
        path: PathBuf,
        /// What was tried, as a participle.
        done: &'static str,
        /// What the system said.
        cause: std::io::Error,
    },
    /// There is a hub in the folder already.
    #[error(
        "{0} holds a hub already. Name another folder, or start the one that is there with `headmark-hub serve`."
    )]
    AlreadyThere(PathBuf),
    /// There is no hub in the folder.
    #[error("{0} holds no hub. Make one with `headmark-hub init`, or name the right folder with --folder.")]
    NotThere(PathBuf),
    /// The passphrase will not do.
    #[error("{0}")]
    WeakPassphrase(&'static str),
    /// The passphrase does not open the file, or the file was changed.
    #[error(
        "The passphrase does not open this file, or the file was changed. Type it again, or take the file from another copy."
    )]
    WrongPassphrase,
    /// A file of ours is not in a form that this version reads.
    #[error(
        "{what} is not in a form that this version reads: {why}. Take it from another copy, or update the hub."
    )]
    OtherForm {
        /// Which file, in words.
        what: &'static str,
        /// What is wrong with it.
        why: String,
    },
    /// Another hub process uses the folder.
    #[error(
        "Another hub process uses {0}. Stop it first; for several processes at once name a PostgreSQL database with --database."
    )]
    InUse(PathBuf),
    /// There was no chance to be had.
    #[error("The system gave no random numbers. Try again; nothing was changed.")]
    NoChance,
    /// A key or certificate for TLS could not be made or read.
    #[error(
        "The key or certificate for TLS could not be used: {0}. Make the hub's TLS files again from a backup."
    )]
    Tls(String),
    /// Records could not be made or read.
    #[error(transparent)]
    Record(#[from] record::Error),
    /// A body could not be made or read.
    #[error(transparent)]
    Body(#[from] bodies::Error),
    /// What the store says.
    #[error(transparent)]
    Store(#[from] hubstore::Error),
    /// Something about an exchange.
    #[error(transparent)]
    Exchange(#[from] exchange::Error),
    /// A thread of this process was lost.
    #[error("The hub was interrupted in its work. Do it again; what was not confirmed was not done.")]
    Interrupted,
    /// Something on a command line cannot be used.
    #[error("{0}")]
    Asked(String),
}

impl Error {
    /// Says that a file could not be used.
    pub fn file(path: impl Into<PathBuf>, done: &'static str) -> impl FnOnce(std::io::Error) -> Error {
        let path = path.into();
        move |cause| Error::File { path, done, cause }
    }
}
