//! What a session asks of whoever drives it, and what came of it.

use crate::Error;
use crate::message::Refused;

/// Which question is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Route {
    /// [`Hello`](crate::message::Hello), answered by [`Welcome`](crate::message::Welcome).
    Hello,
    /// [`Push`](crate::message::Push), answered by [`Answer`](crate::message::Answer).
    Push,
}

/// What to do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// Ask this, and give the answer to [`Session::answered`](crate::session::Session::answered).
    Ask {
        /// Which question.
        route: Route,
        /// The message, not packed.
        body: Vec<u8>,
    },
    /// Both sides hold what they can give each other.
    Done(Summary),
}

/// What came of a session so far.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Summary {
    /// Questions asked.
    pub rounds: u32,
    /// Entries brought to the hub.
    pub sent: u64,
    /// Bytes of those entries.
    pub sent_bytes: u64,
    /// Entries that are still to be brought.
    pub left: u64,
    /// Entries that were new here.
    pub taken: u64,
    /// Pages applied.
    pub pages: u64,
    /// What the hub did not take.
    pub refused: Vec<Refused>,
    /// Entries and pages of the hub that did not hold, and were left out.
    pub bad: u64,
    /// Whether the hub began a new epoch: it was restored, and everything was compared anew.
    pub new_epoch: bool,
}

/// Why a session broke off.
#[derive(Debug, thiserror::Error)]
pub enum Broken<E: std::error::Error> {
    /// What came.
    #[error(transparent)]
    Exchange(#[from] Error),
    /// What is kept.
    #[error("{0}")]
    Ledger(E),
}
