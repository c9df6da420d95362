//! The server, and a schema of its own for each test.

use std::sync::atomic::{AtomicU32, Ordering};

use deadpool_postgres::tokio_postgres::{Client, NoTls, connect};
use hubstore::{Connecting, Postgres};

static NEXT: AtomicU32 = AtomicU32::new(1);

/// Where a test keeps its tables.
pub(crate) struct Place {
    address: String,
    schema: String,
}

impl Place {
    /// A place that nothing was kept in.
    pub(crate) fn fresh() -> Place {
        let address = std::env::var("HEADMARK_TEST_POSTGRES").unwrap_or_else(|_| {
            panic!(
                "HEADMARK_TEST_POSTGRES names no server. Start one together with the tests: \
                 tests/lib/postgres.sh cargo test -p hubstore --features postgres-tests"
            )
        });
        let schema = format!("t{}_{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed));
        Place { address, schema }
    }

    pub(crate) fn connecting(&self, connections: usize) -> Connecting {
        Connecting::to(&self.address).schema(&self.schema).connections(connections)
    }

    /// Opens the store, as one process of a hub does.
    pub(crate) async fn open(&self, connections: usize) -> Postgres {
        self.connecting(connections).open().await.unwrap()
    }

    /// Speaks to the server past the store.
    pub(crate) async fn client(&self) -> Client {
        let (client, connection) = connect(&self.address, NoTls).await.unwrap();
        tokio::spawn(connection);
        client.batch_execute(&format!("SET search_path = {}", self.schema)).await.unwrap();
        client
    }
}
