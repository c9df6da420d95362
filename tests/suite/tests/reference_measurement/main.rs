//! Units, columns and ranging against published and independently computed values.
//!
//! Values, sources and tolerances stand in `reference/{quantity,head,flow,ranging,five_point,after,history,tape}.json`. Each test
//! says how many entries its group holds, so that a lost entry is a failed test.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::print_stderr
)] // In a test a panic is the message.

mod after;
mod columns;
mod facts;
mod five_point;
mod flow;
mod formulas;
mod head;
mod history;
mod mounting;
mod quantity;
mod ranging;
mod sizing;
mod tape;
