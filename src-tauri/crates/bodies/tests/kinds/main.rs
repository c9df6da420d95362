//! The bodies of every kind but the visit: what goes in comes out, and nothing else is taken.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a panic here is the message"
)]

mod any;
mod by_hand;
mod fields;
mod plain;
mod refused;
mod round_trips;
mod row;
