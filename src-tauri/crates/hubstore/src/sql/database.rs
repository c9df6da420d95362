//! A store over a database that can read and write.

use std::future::Future;

use super::Sql;
use crate::Error;

/// A piece of work within a transaction.
pub(crate) type Work<T> = Box<dyn FnOnce(&mut dyn Sql) -> Result<T, Error> + Send>;

/// A database: runs work in transactions, off the threads that serve.
pub(crate) trait Backend: Send + Sync + 'static {
    /// Runs work that only reads, on one state of the database.
    fn read<T: Send + 'static>(&self, work: Work<T>) -> impl Future<Output = Result<T, Error>> + Send;

    /// Runs work that may write, and returns once that is committed and synced. When the future is dropped the work is
    /// still done, or not at all.
    fn write<T: Send + 'static>(&self, work: Work<T>) -> impl Future<Output = Result<T, Error>> + Send;
}

/// A hub's storage over a database.
#[derive(Debug)]
pub struct Database<B> {
    pub(crate) backend: B,
}

#[allow(private_bounds, reason = "nobody outside has to name what a database can do")]
impl<B: Backend> Database<B> {
    pub(super) async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut dyn Sql) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        self.backend.read(Box::new(work)).await
    }

    pub(super) async fn write<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut dyn Sql) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        self.backend.write(Box::new(work)).await
    }
}
