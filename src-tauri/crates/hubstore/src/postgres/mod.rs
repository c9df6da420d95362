//! The store in PostgreSQL: for several processes of a hub at once.
//!
//! Each transaction has a connection of a pool and a blocking thread of its own. `synchronous_commit` is on, whatever the
//! server's default says.

mod address;
mod binding;
mod connecting;
mod pool;
mod schema;
mod statement;
mod tls;
mod verifying;

pub use connecting::{Connecting, Postgres};
pub use pool::PostgresPool;
