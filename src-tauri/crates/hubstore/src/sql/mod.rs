//! The store over a database: each subject's statements once, for SQLite and PostgreSQL alike.
//!
//! The statements keep to what both understand; the few places where they differ go by [`Dialect`]. The calls here are
//! plain, not async: SQLite has no other way, and for PostgreSQL each transaction has a blocking thread of its own, as
//! many as the pool has connections. The other way, everything twice, would have doubled what has to be right.

mod access;
mod database;
mod dump;
mod entries;
mod follows;
mod ingest;
mod jobs;
mod ledger;
mod logs;
mod many;
mod meta;
mod people;
mod photos;
mod register;
mod restore;
mod statement;
mod value;
mod visits;

pub use database::Database;
pub(crate) use database::{Backend, Work};
pub(crate) use many::{Column, Insert, Lookup, column};
pub(crate) use statement::{Dialect, Sql};
pub(crate) use value::{Row, Value};
