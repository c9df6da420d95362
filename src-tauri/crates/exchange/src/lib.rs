//! How records get home: who holds what, what is asked for, and the messages between a phone and the hub.
//!
//! Pure: bytes in, bytes out. No file, no socket, no clock; what is kept is reached through the port
//! [`session::Ledger`]. `PROTOCOL.md` beside this crate writes the messages down.
//!
//! Three rules hold throughout:
//!
//! - What is held is known by runs of the chain ([`run`]), never by a highest place and never by a count.
//! - Everything may come twice, late, out of order or never. An entry's identity is its log, place and payload; what is
//!   there already is not taken again, and another payload at a place is a fork, kept and told.
//! - Only a signed receipt says that something arrived.

pub mod backoff;
pub mod bundle;
pub mod decided;
pub mod enrol;
mod error;
pub mod have;
pub mod intake;
pub mod message;
pub mod packed;
pub mod page;
pub mod plan;
pub mod receipt;
pub mod run;
pub mod session;
pub mod standpoint;
pub mod trust;
#[cfg(test)]
mod who;
mod wire;

pub use error::Error;
