//! A transaction as the statements see it.

use super::{Insert, Lookup, Row, Value};
use crate::Error;

/// Where the two databases differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Dialect {
    Sqlite,
    Postgres,
}

/// A transaction. Places in a statement are written `$1`, `$2` ...
pub(crate) trait Sql {
    fn dialect(&self) -> Dialect;

    /// Asks.
    fn rows(&mut self, sql: &str, values: &[Value]) -> Result<Vec<Row>, Error>;

    /// Changes, and returns how many rows.
    fn run(&mut self, sql: &str, values: &[Value]) -> Result<u64, Error>;

    /// Puts many rows in.
    fn insert(&mut self, insert: Insert, rows: &[Vec<Value>]) -> Result<(), Error>;

    /// Looks many rows up; in no order.
    fn lookup(&mut self, lookup: Lookup, keys: &[Vec<Value>]) -> Result<Vec<Row>, Error>;
}

impl dyn Sql + '_ {
    /// Asks for one row at most.
    pub(crate) fn row(&mut self, sql: &str, values: &[Value]) -> Result<Option<Row>, Error> {
        Ok(self.rows(sql, values)?.into_iter().next())
    }

    /// Asks for the one row there always is.
    pub(crate) fn one(&mut self, sql: &str, values: &[Value]) -> Result<Row, Error> {
        self.row(sql, values)?.ok_or_else(|| Error::unreadable("a row that always stands is missing"))
    }

    /// Reads a counter.
    pub(crate) fn value(&mut self, counter: &str) -> Result<u64, Error> {
        self.one("SELECT value FROM counter WHERE name = $1", &[Value::text(counter)])?.count()
    }

    /// Reads a counter and keeps all other writers from it until this transaction ends: that is what makes the order
    /// of numbers the order of commits. In SQLite there is no other writer anyway.
    pub(crate) fn lock(&mut self, counter: &str) -> Result<u64, Error> {
        match self.dialect() {
            Dialect::Sqlite => self.value(counter),
            Dialect::Postgres => {
                let sql = "SELECT value FROM counter WHERE name = $1 FOR UPDATE";
                self.one(sql, &[Value::text(counter)])?.count()
            }
        }
    }

    /// Writes a counter.
    pub(crate) fn advance(&mut self, counter: &str, value: u64) -> Result<(), Error> {
        let sql = "UPDATE counter SET value = $2 WHERE name = $1";
        self.run(sql, &[Value::text(counter), Value::count(value)]).map(drop)
    }
}
