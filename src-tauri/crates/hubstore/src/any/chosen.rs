//! The choice.

use crate::{Memory, Postgres, Sqlite};

/// A hub's storage, wherever it is.
#[derive(Debug)]
pub enum AnyStore {
    /// In memory.
    Memory(Memory),
    /// In a SQLite file.
    Sqlite(Sqlite),
    /// In PostgreSQL.
    Postgres(Postgres),
}

impl AnyStore {
    /// Returns the word for the kind of store, for logs and health.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            AnyStore::Memory(_) => "memory",
            AnyStore::Sqlite(_) => "sqlite",
            AnyStore::Postgres(_) => "postgres",
        }
    }
}

impl From<Memory> for AnyStore {
    fn from(store: Memory) -> AnyStore {
        AnyStore::Memory(store)
    }
}

impl From<Sqlite> for AnyStore {
    fn from(store: Sqlite) -> AnyStore {
        AnyStore::Sqlite(store)
    }
}

impl From<Postgres> for AnyStore {
    fn from(store: Postgres) -> AnyStore {
        AnyStore::Postgres(store)
    }
}
