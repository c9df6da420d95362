//! Holds the house to its plan: which crate may know which, what the pure ones may not touch, what may cross
//! the border to the pages, how long a file may grow, and what no file may say.
//!
//! Reads `cargo metadata` and the sources; builds nothing. Every rule is a function from what was read to the
//! breaches found, and beside each stands a test that shows it a breach, so that a rule which has gone blind
//! fails too.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

mod border;
mod changes;
mod direction;
mod house;
mod lists;
mod purity;
mod scripts;
mod shape;
mod source;
mod words;
