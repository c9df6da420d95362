//! The storage of the hub: one set of traits, kept in memory, in one SQLite file, or in PostgreSQL.
//!
//! [`HubStore`] is everything a hub keeps, by subject: [`Ledger`] and [`Logs`] (signed entries and who signs),
//! [`Visits`], [`Register`], [`Photos`] (what is known of them; the bytes are in a [`PhotoStore`]), [`Jobs`], [`People`],
//! [`Access`], [`Meta`], and [`Dump`]. A contract suite runs on all three stores.
//!
//! What this crate promises:
//!
//! - A call that returns `Ok` after changing something has committed it and had it synced. Only then may a receipt be
//!   signed. Every call may be repeated without harm.
//! - An entry is never changed and never leaves. The same place with another payload is kept too, and listed as a fork.
//! - Arrival numbers and versions follow the order of commits, so that who reads on from a number misses nothing, with
//!   any number of processes on one PostgreSQL.
//! - Entries are kept exactly as they arrived.
//!
//! What it does not do: judge. Signatures and certificates are the caller's, before [`Ledger::ingest`]; it has no clock
//! and no random source: moments and secrets are handed in.

mod any;
mod error;
mod ids;
mod index;
mod memory;
mod photo_name;
mod photo_store;
mod plan;
mod port;
mod postgres;
mod reading;
mod sql;
mod sqlite;
mod visit_line;

pub use any::AnyStore;
pub use error::Error;
pub use ids::{Arrival, Moment, TagKey, Version};
pub use index::{Index, NewEntry, Receipted};
pub use memory::Memory;
pub use photo_name::{photo_hash, photo_name, photo_named};
pub use photo_store::{PIECE, PhotoStore, Piece, S3, Taken, piece_count, piece_length};
pub use port::*;
pub use postgres::{Connecting, Postgres, PostgresPool};
pub use reading::Reading;
pub use sql::Database;
pub use sqlite::{Flush, Opening, Sqlite, SqliteFile};
