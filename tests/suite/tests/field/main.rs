//! What a person does with the phone, over a real store: no stand-in below the ports.
#![allow(
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a panic here is the message"
)]

mod at_work;
mod breaks;
mod changed;
mod decided;
mod dense;
mod desk;
mod enrolling;
mod equalised;
mod finding;
mod fitted;
mod five_point;
mod flow;
mod history;
mod labels;
mod linking;
mod missing;
mod moving;
mod near;
mod next_best;
mod opening;
mod payloads;
mod people;
mod pictures;
mod pin;
mod plan;
mod records;
mod references;
mod register;
mod routine;
mod scanning;
mod sending;
mod tape;
mod visits;
