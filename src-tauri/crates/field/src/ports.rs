//! What the use cases need from the outside: the time, chance, and a place for the signing key.

use std::time::Duration;

use domain::visit::Moment;

/// What the phone's clock says now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Now {
    /// The wall clock, which may be wrong and may go back.
    pub wall: Moment,
    /// Minutes that local time is ahead of UTC.
    pub offset_minutes: i16,
    /// The clock that nobody sets; none where the platform does not tell.
    pub since_boot: Option<SinceBoot>,
}

/// The time since the phone was started. It never goes back, and setting the clock does not move it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SinceBoot {
    /// How long ago, sleep included.
    pub elapsed: Duration,
    /// Which start. Two elapsed times compare only under one mark.
    pub mark: [u8; 16],
}

/// The phone's clock.
pub trait Clock: Send + Sync {
    /// Returns what the clock says now.
    fn now(&self) -> Now;

    /// Returns a time that only goes forward, from a start of its own: for giving up in time, and for nothing
    /// that is kept.
    fn ticks(&self) -> Duration;
}

/// Why the key store gave no key.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum KeysError {
    /// What was sealed cannot be opened here, now or later: it came from another phone or from a backup.
    #[error("this key was not sealed by this phone")]
    Lost,
    /// It cannot be had just now.
    #[error("the key store refused: {what}")]
    Refused {
        /// What it said.
        what: String,
    },
}

/// How a secret key is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// In a private file that nothing seals: who copies all files of the device has the key.
    InAFile,
    /// Sealed by the platform's key store, which does not give away what it seals with.
    Sealed,
}

/// The platform's key store.
///
/// What it seals must not open on another phone, nor on this one after its data was restored from a backup:
/// a phone that was restored starts a new log instead of forking its old one.
pub trait Keys: Send + Sync {
    /// Seals a secret key and returns what to keep of it.
    ///
    /// # Errors
    ///
    /// [`KeysError::Refused`].
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError>;

    /// Opens what was sealed.
    ///
    /// # Errors
    ///
    /// [`KeysError::Lost`] when it never will, [`KeysError::Refused`] when it may later.
    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError>;

    /// Returns how a key that opens is kept just now. It is what this phone says of itself, and proves nothing to others.
    fn kept(&self, sealed: &[u8]) -> Kept;
}

/// The source of chance gave nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the source of random numbers gave nothing")]
pub struct NoEntropy;

/// A source of numbers that nobody can guess.
pub trait Entropy: Send + Sync {
    /// Fills the bytes.
    ///
    /// # Errors
    ///
    /// [`NoEntropy`]; the bytes must then not be used.
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy>;
}
