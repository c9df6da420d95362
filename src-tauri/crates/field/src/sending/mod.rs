//! Sending: what waits, why, and how far it has come, in plain words.
//!
//! Only signed receipts say that something arrived, and they say it per log and place; here that becomes a line for each
//! visit and one for all of them. What is under way is told by whoever carries ([`Under`]); this crate knows no carrier.

mod exchanging;
mod lines;
mod settings;
mod shown;
mod space;
mod under;

pub use exchanging::Way;
pub use under::{Stage, Under};

pub(crate) use lines::{host, status, whereabouts};
