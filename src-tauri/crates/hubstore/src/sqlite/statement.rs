//! Statements on a connection.

use rusqlite::types::{ToSqlOutput, ValueRef};
use rusqlite::{Connection, ErrorCode, ToSql, params_from_iter};

use crate::Error;
use crate::sql::{Dialect, Insert, Lookup, Row, Sql, Value};

/// A transaction that somebody else begins and ends.
pub(super) struct Statements<'c>(pub(super) &'c Connection);

impl Sql for Statements<'_> {
    fn dialect(&self) -> Dialect {
        Dialect::Sqlite
    }

    fn rows(&mut self, sql: &str, values: &[Value]) -> Result<Vec<Row>, Error> {
        let mut found = Vec::new();
        self.each(&numbered(sql), values, &mut found)?;
        Ok(found)
    }

    fn run(&mut self, sql: &str, values: &[Value]) -> Result<u64, Error> {
        let mut statement = self.0.prepare_cached(&numbered(sql))?;
        Ok(statement.execute(params_from_iter(values))? as u64)
    }

    fn insert(&mut self, insert: Insert, rows: &[Vec<Value>]) -> Result<(), Error> {
        if rows.is_empty() {
            return Ok(());
        }
        let mut statement = self.0.prepare_cached(&insert.single())?;
        for row in rows {
            statement.execute(params_from_iter(row))?;
        }
        Ok(())
    }

    fn lookup(&mut self, lookup: Lookup, keys: &[Vec<Value>]) -> Result<Vec<Row>, Error> {
        let mut found = Vec::new();
        if keys.is_empty() {
            return Ok(found);
        }
        let sql = lookup.single();
        keys.iter().try_for_each(|key| self.each(&sql, key, &mut found))?;
        Ok(found)
    }
}

impl Statements<'_> {
    fn each(&self, sql: &str, values: &[Value], found: &mut Vec<Row>) -> Result<(), Error> {
        let mut statement = self.0.prepare_cached(sql)?;
        let columns = statement.column_count();
        let mut rows = statement.query(params_from_iter(values))?;
        while let Some(row) = rows.next()? {
            let values = (0..columns).map(|at| value(row.get_ref(at)?)).collect::<Result<_, Error>>()?;
            found.push(Row::of(values));
        }
        Ok(())
    }
}

/// SQLite would number `$2` by where it stands; `?2` is the second wherever it stands.
fn numbered(sql: &str) -> String {
    sql.replace('$', "?")
}

fn value(raw: ValueRef<'_>) -> Result<Value, Error> {
    match raw {
        ValueRef::Integer(number) => Ok(Value::Int(number)),
        ValueRef::Text(text) => {
            Ok(Value::Text(std::str::from_utf8(text).map_err(Error::unreadable)?.to_owned()))
        }
        ValueRef::Blob(bytes) => Ok(Value::Blob(bytes.to_vec())),
        ValueRef::Null | ValueRef::Real(_) => Err(Error::unreadable("a column of no type of ours")),
    }
}

impl ToSql for Value {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(match self {
            Value::Int(number) => ValueRef::Integer(*number),
            Value::Text(text) => ValueRef::Text(text.as_bytes()),
            Value::Blob(bytes) => ValueRef::Blob(bytes),
        }))
    }
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Error {
        let what = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Error::Full,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Error::Busy,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) | None => Error::Unreadable { what },
            Some(
                ErrorCode::ReadOnly
                | ErrorCode::SystemIoFailure
                | ErrorCode::CannotOpen
                | ErrorCode::PermissionDenied
                | ErrorCode::NoLargeFileSupport
                | ErrorCode::FileLockingProtocolFailed
                | ErrorCode::OutOfMemory,
            ) => Error::Io { what },
            Some(_) => Error::Broken { what },
        }
    }
}
