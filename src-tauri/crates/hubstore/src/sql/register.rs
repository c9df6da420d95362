//! The register.

use std::collections::{BTreeMap, BTreeSet};

use super::{Backend, Column, Database, Insert, Lookup, Row, Sql, Value};
use crate::plan::diff;
use crate::{Change, Error, Put, Register, Row as Line, Rows, Version};

const STANDING: Lookup = Lookup {
    select: "register_row.tag, register_row.area, register_row.gone, register_row.bytes",
    table: "register_row",
    keys: &[Column::Text("tag")],
};

const COLUMNS: &[Column] = &[
    Column::Int("version"),
    Column::Text("tag"),
    Column::Text("area"),
    Column::Int("gone"),
    Column::Blob("bytes"),
];

const ROW: Insert = Insert {
    table: "register_row",
    columns: COLUMNS,
    conflict: "ON CONFLICT (tag, area) DO UPDATE SET version = excluded.version, gone = excluded.gone, \
               bytes = excluded.bytes",
};

const CHANGE: Insert = Insert { table: "register_change", columns: COLUMNS, conflict: "" };

impl<B: Backend> Register for Database<B> {
    async fn put_rows(&self, rows: Rows) -> Result<Put, Error> {
        self.write(move |sql| put_rows(sql, rows)).await
    }

    async fn would_put(&self, rows: &Rows) -> Result<Put, Error> {
        let rows = rows.clone();
        self.read(move |sql| {
            let version = Version(sql.value("version")?);
            let standing = standing(sql, &rows)?;
            Ok(diff(&standing, rows, version).1)
        })
        .await
    }

    async fn changes(&self, area: &str, after: Version, most: u32) -> Result<Vec<Change>, Error> {
        let values = [Value::text(area), Value::count(after.0), Value::Int(most.into())];
        self.read(move |sql| {
            let select = "SELECT version, tag, area, gone, bytes FROM register_row \
                          WHERE area = $1 AND version > $2 ORDER BY version LIMIT $3";
            sql.rows(select, &values)?.into_iter().map(change).collect()
        })
        .await
    }

    async fn areas(&self) -> Result<Vec<(String, Version)>, Error> {
        self.read(|sql| {
            let select = "SELECT area, max(version) FROM register_row GROUP BY area ORDER BY area";
            sql.rows(select, &[])?.into_iter().map(|mut row| Ok((row.text()?, row.version()?))).collect()
        })
        .await
    }

    async fn row(&self, tag: &str) -> Result<Option<Line>, Error> {
        let tag = Value::text(tag);
        self.read(move |sql| {
            let select = "SELECT tag, area, bytes FROM register_row WHERE tag = $1 AND gone = 0";
            sql.row(select, &[tag])?.map(line).transpose()
        })
        .await
    }

    async fn rows(&self, after: &str, most: u32) -> Result<Vec<Line>, Error> {
        let values = [Value::text(after), Value::Int(most.into())];
        self.read(move |sql| {
            let select =
                "SELECT tag, area, bytes FROM register_row WHERE tag > $1 AND gone = 0 ORDER BY tag LIMIT $2";
            sql.rows(select, &values)?.into_iter().map(line).collect()
        })
        .await
    }

    async fn history(&self, tag: &str) -> Result<Vec<Change>, Error> {
        let tag = Value::text(tag);
        self.read(move |sql| {
            let select =
                "SELECT version, tag, area, gone, bytes FROM register_change WHERE tag = $1 ORDER BY version";
            sql.rows(select, &[tag])?.into_iter().map(change).collect()
        })
        .await
    }
}

/// Puts rows into the register.
pub(super) fn put_rows(sql: &mut dyn Sql, rows: Rows) -> Result<Put, Error> {
    let version = Version(sql.lock("version")?);
    let standing = standing(sql, &rows)?;
    let (changes, put) = diff(&standing, rows, version);
    write(sql, &changes)?;
    sql.advance("version", put.version.0)?;
    Ok(put)
}

/// Writes changes, in their order.
pub(super) fn write(sql: &mut dyn Sql, changes: &[Change]) -> Result<(), Error> {
    let rows: Vec<Vec<Value>> = changes.iter().map(values).collect();
    sql.insert(CHANGE, &rows)?;
    // Of a tag in an area only the newest stands.
    let newest: BTreeMap<(&str, &str), &Change> =
        changes.iter().map(|change| ((change.tag.as_str(), change.area.as_str()), change)).collect();
    let rows: Vec<Vec<Value>> = newest.into_values().map(values).collect();
    sql.insert(ROW, &rows)
}

fn values(change: &Change) -> Vec<Value> {
    vec![
        Value::count(change.version.0),
        Value::text(&change.tag),
        Value::text(&change.area),
        Value::flag(change.row.is_none()),
        Value::Blob(change.row.clone().unwrap_or_default()),
    ]
}

/// Reads the rows that stand and that these rows speak of.
pub(super) fn standing(sql: &mut dyn Sql, rows: &Rows) -> Result<BTreeMap<String, Line>, Error> {
    let tags: BTreeSet<&str> = match rows {
        Rows::All(_) => BTreeSet::new(),
        Rows::Some(rows) => rows.iter().map(|row| row.tag.as_str()).collect(),
        Rows::Remove(tags) => tags.iter().map(String::as_str).collect(),
    };
    let found = if matches!(rows, Rows::All(_)) {
        sql.rows("SELECT tag, area, gone, bytes FROM register_row WHERE gone = 0", &[])?
    } else {
        let keys: Vec<Vec<Value>> = tags.iter().map(|tag| vec![Value::text(tag)]).collect();
        sql.lookup(STANDING, &keys)?
    };
    let mut standing = BTreeMap::new();
    for mut row in found {
        let (tag, area, gone, bytes) = (row.text()?, row.text()?, row.flag()?, row.blob()?);
        if !gone {
            standing.insert(tag.clone(), Line { tag, area, bytes });
        }
    }
    Ok(standing)
}

/// Reads a change.
pub(super) fn change(mut row: Row) -> Result<Change, Error> {
    let (version, tag, area) = (row.version()?, row.text()?, row.text()?);
    let (gone, bytes) = (row.flag()?, row.blob()?);
    Ok(Change { version, area, tag, row: (!gone).then_some(bytes) })
}

fn line(mut row: Row) -> Result<Line, Error> {
    Ok(Line { tag: row.text()?, area: row.text()?, bytes: row.blob()? })
}
