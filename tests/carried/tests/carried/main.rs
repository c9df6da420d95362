//! Phones' cores, the real carrier and `headmark-hub` as a process, over TLS on this machine.
//!
//! Needs the hub built (`cargo build --package hub --bin headmark-hub`), a PostgreSQL and an object store, which
//! `tests/lib/postgres.sh tests/lib/objects.sh cargo test --package carried` starts; without any a test fails and says so.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    reason = "a panic here is the message"
)]

mod by_file;
mod crash;
mod cut;
mod decided;
mod enrolment;
mod full;
mod home;
mod keys;
mod objects;
mod people;
mod photos;
mod relay;
mod restored;
mod salvaged;
mod strangers;
mod two_hubs;
mod wire;
