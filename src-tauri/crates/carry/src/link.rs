//! A way to the hub, as an exchange needs it: a question goes out, an answer comes back, or the link breaks.

use exchange::session::Route;
use thiserror::Error;

/// A way to the hub. Questions and answers are packed as `exchange::packed` does.
///
/// It blocks: an exchange has a thread of its own, so that the ledger, which blocks too, is never called from within
/// a task that others wait for.
pub trait Link {
    /// Asks, and returns the answer.
    ///
    /// # Errors
    ///
    /// [`LinkError`]. The question may have arrived all the same.
    fn ask(&self, route: Route, question: &[u8]) -> Result<Vec<u8>, LinkError>;
}

/// Why no answer came.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LinkError {
    /// Nobody answers at the address.
    #[error("The hub cannot be reached. Records stay here and go when there is signal.")]
    Unreachable,
    /// The link broke while something was under way.
    #[error("The link to the hub broke. What had arrived stays there; the rest goes on from there.")]
    Broken,
    /// Nothing came for too long.
    #[error("The hub did not answer in time. The rest goes on from where it stopped.")]
    TimedOut,
    /// What answers shows another key than the hub's.
    #[error(
        "What answers at the hub's address is not the hub. Nothing was sent to it. Try another network; if it stays so, ask whoever looks after the hub."
    )]
    WrongServer,
    /// The hub said no.
    #[error("The hub refused ({status} {word}). Nothing is lost; it will be tried again.")]
    Refused {
        /// The status of HTTP.
        status: u16,
        /// The hub's own stable word; may be empty.
        word: String,
        /// How many seconds the hub asks to wait; none where it does not say.
        wait: Option<u32>,
    },
    /// An answer is longer than any answer may be.
    #[error("What came from the hub is longer than any answer and was not taken.")]
    TooLong,
    /// It was stopped here.
    #[error("Sending was stopped. The rest stays here and goes next time.")]
    Stopped,
}

impl LinkError {
    /// Returns the stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            LinkError::Unreachable => "link.unreachable",
            LinkError::Broken => "link.broken",
            LinkError::TimedOut => "link.timed_out",
            LinkError::WrongServer => "link.wrong_server",
            LinkError::Refused { .. } => "link.refused",
            LinkError::TooLong => "link.too_long",
            LinkError::Stopped => "link.stopped",
        }
    }

    /// Returns whether the hub refused what it was asked and may well take something else: it neither asks to wait nor is
    /// full, busy or away.
    #[must_use]
    pub fn is_of_this_alone(&self) -> bool {
        const OF_ALL: [u16; 6] = [408, 429, 502, 503, 504, 507];
        matches!(self, LinkError::Refused { status, wait: None, .. } if !OF_ALL.contains(status))
    }

    /// Returns whether the link gave way while something was on it, so that less at a time may get through.
    #[must_use]
    pub fn gave_way(&self) -> bool {
        matches!(self, LinkError::Broken | LinkError::TimedOut)
    }
}
