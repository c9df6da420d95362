//! The store in one SQLite file: nothing to set up.
//!
//! Write-ahead log, `synchronous=FULL`. One thread writes and commits what waits together with one sync; readers have
//! connections of their own and never wait for it. Another process may have the file open too: a command beside a running
//! hub. Then the two take turns.

mod backup;
mod file;
mod opening;
mod schema;
mod statement;
mod writer;

pub use file::SqliteFile;
pub use opening::{Flush, Opening, Sqlite};
