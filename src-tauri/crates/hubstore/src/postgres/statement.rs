//! Statements on a connection.

use deadpool_postgres::Transaction;
use deadpool_postgres::tokio_postgres::Error as Failed;
use deadpool_postgres::tokio_postgres::error::SqlState;
use deadpool_postgres::tokio_postgres::types::private::BytesMut;
use deadpool_postgres::tokio_postgres::types::{IsNull, ToSql, Type, to_sql_checked};
use tokio::runtime::Handle;

use super::tls::not_private;
use crate::Error;
use crate::sql::{Column, Dialect, Insert, Lookup, Row, Sql, Value, column};

/// A transaction that somebody else begins and ends, on a thread that may block.
pub(super) struct Statements<'t> {
    pub(super) runtime: Handle,
    pub(super) transaction: Transaction<'t>,
}

impl Sql for Statements<'_> {
    fn dialect(&self) -> Dialect {
        Dialect::Postgres
    }

    fn rows(&mut self, sql: &str, values: &[Value]) -> Result<Vec<Row>, Error> {
        let values: Vec<&(dyn ToSql + Sync)> = values.iter().map(|value| value as _).collect();
        self.query(sql, &values)
    }

    fn run(&mut self, sql: &str, values: &[Value]) -> Result<u64, Error> {
        let values: Vec<&(dyn ToSql + Sync)> = values.iter().map(|value| value as _).collect();
        self.execute(sql, &values)
    }

    fn insert(&mut self, insert: Insert, rows: &[Vec<Value>]) -> Result<(), Error> {
        if rows.is_empty() {
            return Ok(());
        }
        let arrays = Array::all(insert.columns, rows);
        let values: Vec<&(dyn ToSql + Sync)> = arrays.iter().map(Array::value).collect();
        self.execute(&insert.by_arrays(), &values).map(drop)
    }

    fn lookup(&mut self, lookup: Lookup, keys: &[Vec<Value>]) -> Result<Vec<Row>, Error> {
        if keys.is_empty() {
            return Ok(Vec::new());
        }
        let arrays = Array::all(lookup.keys, keys);
        let values: Vec<&(dyn ToSql + Sync)> = arrays.iter().map(Array::value).collect();
        self.query(&lookup.by_arrays(), &values)
    }
}

impl Statements<'_> {
    fn query(&self, sql: &str, values: &[&(dyn ToSql + Sync)]) -> Result<Vec<Row>, Error> {
        let rows = self.runtime.block_on(async {
            let statement = self.transaction.prepare_cached(sql).await?;
            self.transaction.query(&statement, values).await
        });
        rows?.iter().map(row).collect()
    }

    fn execute(&self, sql: &str, values: &[&(dyn ToSql + Sync)]) -> Result<u64, Error> {
        let count = self.runtime.block_on(async {
            let statement = self.transaction.prepare_cached(sql).await?;
            self.transaction.execute(&statement, values).await
        });
        Ok(count?)
    }
}

fn row(row: &deadpool_postgres::tokio_postgres::Row) -> Result<Row, Error> {
    let value = |(at, column): (usize, &deadpool_postgres::tokio_postgres::Column)| match *column.type_() {
        Type::INT8 => Ok(Value::Int(row.try_get(at)?)),
        Type::TEXT => Ok(Value::Text(row.try_get(at)?)),
        Type::BYTEA => Ok(Value::Blob(row.try_get(at)?)),
        ref other => Err(Error::unreadable(format!("a column of type {other}"))),
    };
    Ok(Row::of(row.columns().iter().enumerate().map(value).collect::<Result<_, _>>()?))
}

/// A column of many rows.
enum Array<'v> {
    Int(Vec<i64>),
    Text(Vec<&'v str>),
    Blob(Vec<&'v [u8]>),
}

impl<'v> Array<'v> {
    fn all(columns: &[Column], rows: &'v [Vec<Value>]) -> Vec<Array<'v>> {
        columns.iter().enumerate().map(|(at, kind)| Array::of(*kind, column(rows, at))).collect()
    }

    fn of(kind: Column, values: impl Iterator<Item = &'v Value>) -> Array<'v> {
        match kind {
            Column::Int(_) => Array::Int(values.filter_map(Value::as_int).collect()),
            Column::Text(_) => Array::Text(values.filter_map(Value::as_text).collect()),
            Column::Blob(_) => Array::Blob(values.filter_map(Value::as_blob).collect()),
        }
    }

    fn value(&self) -> &(dyn ToSql + Sync) {
        match self {
            Array::Int(numbers) => numbers,
            Array::Text(texts) => texts,
            Array::Blob(blobs) => blobs,
        }
    }
}

impl ToSql for Value {
    fn to_sql(
        &self,
        kind: &Type,
        out: &mut BytesMut,
    ) -> Result<IsNull, Box<dyn std::error::Error + Sync + Send>> {
        match self {
            Value::Int(number) => number.to_sql(kind, out),
            Value::Text(text) => text.as_str().to_sql(kind, out),
            Value::Blob(bytes) => bytes.as_slice().to_sql(kind, out),
        }
    }

    fn accepts(kind: &Type) -> bool {
        [Type::INT8, Type::TEXT, Type::BYTEA].contains(kind)
    }

    to_sql_checked!();
}

impl From<Failed> for Error {
    fn from(error: Failed) -> Error {
        if let Some(not_private) = not_private(&error) {
            return not_private;
        }
        let what = spelled_out(&error);
        let Some(code) = error.code() else { return Error::Unreachable { what } };
        let class = code.code().get(..2).unwrap_or_default();
        match (code, class) {
            (&SqlState::DISK_FULL, _) => Error::Full,
            // A unique number that two wrote at once; whoever comes again sees the other's.
            (&SqlState::UNIQUE_VIOLATION | &SqlState::LOCK_NOT_AVAILABLE, _) | (_, "40") => Error::Busy,
            (_, "08" | "53" | "57") => Error::Unreachable { what },
            (&SqlState::READ_ONLY_SQL_TRANSACTION | &SqlState::INSUFFICIENT_PRIVILEGE, _)
            | (_, "28" | "3D" | "58") => Error::Io { what },
            (_, "XX") => Error::Unreadable { what },
            _ => Error::Broken { what },
        }
    }
}

/// The error with what is beneath it: its own words alone are "db error".
pub(super) fn spelled_out(error: &Failed) -> String {
    use std::error::Error as _;
    error.source().map_or_else(|| error.to_string(), |source| format!("{error}: {source}"))
}
