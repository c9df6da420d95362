//! The contract of `tests/contract` on a real PostgreSQL, and what only PostgreSQL has to hold.
//!
//! Needs a server: `tests/lib/postgres.sh cargo test -p hubstore --features postgres-tests` starts one. Without it every
//! test here fails, and says so.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

#[path = "../contract/cases/mod.rs"]
mod cases;
#[path = "../contract/home.rs"]
mod home;
#[path = "../contract/random.rs"]
mod random;
mod schemas;
mod server;
mod upgrades;
#[path = "../contract/writer.rs"]
mod writer;
mod writers;

use home::Home;
use hubstore::AnyStore;

async fn postgres() -> Home {
    Home::of(AnyStore::Postgres(server::Place::fresh().open(4).await))
}

cases::contract!(on_postgres, postgres);
