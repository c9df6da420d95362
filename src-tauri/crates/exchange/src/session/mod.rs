//! A phone's side of an exchange, as a state machine: it says what to ask, and is told what was answered.
//!
//! Whoever drives it owns the socket, the waits and the cancelling. Each answer is taken in one step of the ledger
//! before the next question is asked, so a session that breaks off anywhere loses nothing, and the next one goes on from
//! what both sides hold.

mod incoming;
mod ledger;
mod machine;
mod outgoing;
mod step;

pub use ledger::{Held, Ledger, Marks, Taken, Took};
pub use machine::{ROUND, Session};
pub use step::{Broken, Route, Step, Summary};
