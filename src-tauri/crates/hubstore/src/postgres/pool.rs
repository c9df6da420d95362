//! Transactions on connections of a pool.

use std::fmt;

use deadpool_postgres::tokio_postgres::IsolationLevel;
use deadpool_postgres::{Object, Pool, PoolError, Transaction};
use tokio::runtime::Handle;

use super::statement::{Statements, spelled_out};
use crate::Error;
use crate::sql::{Backend, Work};

/// A pool of connections to a PostgreSQL.
pub struct PostgresPool {
    pool: Pool,
}

impl fmt::Debug for PostgresPool {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_struct("PostgresPool").field("status", &self.pool.status()).finish_non_exhaustive()
    }
}

/// What a transaction is for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    Reading,
    Writing,
}

/// How often a connection that turns out to be dead is replaced, as after the server was restarted.
const FRESH: usize = 3;

impl PostgresPool {
    pub(super) fn over(pool: Pool) -> PostgresPool {
        PostgresPool { pool }
    }

    pub(super) async fn client(&self) -> Result<Object, Error> {
        self.pool.get().await.map_err(|error| match error {
            PoolError::Backend(error) => Error::from(error),
            other => Error::Unreachable { what: other.to_string() },
        })
    }

    /// Returns a connection that answers. One that does not is thrown away.
    async fn answering(&self) -> Result<Object, Error> {
        let mut last = Error::Busy;
        for _ in 0..FRESH {
            let client = self.client().await?;
            match client.simple_query("").await {
                Ok(_) => return Ok(client),
                Err(error) => last = error.into(),
            }
            drop(Object::take(client));
        }
        Err(last)
    }

    async fn transact<T: Send + 'static>(&self, mode: Mode, work: Work<T>) -> Result<T, Error> {
        let mut client = self.answering().await?;
        let runtime = Handle::current();
        // On a thread of its own, and not dropped with the future: a transaction that was begun is ended by us.
        let done = tokio::task::spawn_blocking(move || {
            let transaction = runtime.block_on(begin(&mut client, mode))?;
            let mut statements = Statements { runtime: runtime.clone(), transaction };
            let out = work(&mut statements)?;
            if mode == Mode::Writing {
                runtime.block_on(statements.transaction.commit()).map_err(|error| match error.code() {
                    Some(_) => Error::from(error),
                    None => Error::Unsure { what: spelled_out(&error) },
                })?;
            } else {
                runtime.block_on(statements.transaction.rollback())?;
            }
            Ok(out)
        });
        done.await.map_err(Error::broken)?
    }
}

async fn begin(client: &mut Object, mode: Mode) -> Result<Transaction<'_>, Error> {
    let builder = client.build_transaction();
    let builder = match mode {
        // One state of the database for all statements of the work.
        Mode::Reading => builder.read_only(true).isolation_level(IsolationLevel::RepeatableRead),
        // Each statement sees what was committed before it: what is read behind a lock is what the lock guards.
        Mode::Writing => builder.isolation_level(IsolationLevel::ReadCommitted),
    };
    Ok(builder.start().await?)
}

impl Backend for PostgresPool {
    async fn read<T: Send + 'static>(&self, work: Work<T>) -> Result<T, Error> {
        self.transact(Mode::Reading, work).await
    }

    async fn write<T: Send + 'static>(&self, work: Work<T>) -> Result<T, Error> {
        self.transact(Mode::Writing, work).await
    }
}
