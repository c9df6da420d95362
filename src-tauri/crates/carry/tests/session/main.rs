//! Exchanges over links without a network: whole, cut at every kind of byte, twice, late.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod breaks;
mod hub;
mod phone;
mod rounds;
