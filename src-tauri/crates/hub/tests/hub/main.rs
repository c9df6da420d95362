//! The hub as phones and people meet it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    reason = "a panic here is the message"
)]

mod changes;
mod command;
mod counting;
mod cut;
mod decisions;
mod described;
mod doors;
mod enrolment;
mod exchange;
mod exporting;
mod forks;
mod hostile;
mod listed;
mod looking_through;
mod many_phones;
mod many_photos;
mod people;
mod phone;
mod photos;
mod proposals;
mod proving;
mod recomputing;
mod restored;
mod returning;
mod server;
mod slow;
mod visit;
mod vouching;
mod world;
