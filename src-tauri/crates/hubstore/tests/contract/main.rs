//! What every store of a hub does, on the one in memory and the one in a SQLite file. `tests/postgres` runs the same on
//! PostgreSQL.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

mod cases;
mod file;
mod home;
mod random;
mod writer;

use home::Home;
use hubstore::{AnyStore, Memory, Opening};

async fn memory() -> Home {
    Home::of(AnyStore::Memory(Memory::new()))
}

async fn sqlite() -> Home {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("hub.db")).open().unwrap();
    Home::in_folder(AnyStore::Sqlite(store), folder)
}

cases::contract!(on_memory, memory);
cases::contract!(on_sqlite, sqlite);
