//! Many rows with one statement. PostgreSQL gets each column as one array, so that a batch costs one round trip; SQLite
//! gets the rows one by one, which within a process costs nothing.

use super::Value;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Column {
    Int(&'static str),
    Text(&'static str),
    Blob(&'static str),
}

impl Column {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Column::Int(name) | Column::Text(name) | Column::Blob(name) => name,
        }
    }

    /// The type of an array of it in PostgreSQL.
    pub(crate) fn array(self) -> &'static str {
        match self {
            Column::Int(_) => "bigint[]",
            Column::Text(_) => "text[]",
            Column::Blob(_) => "bytea[]",
        }
    }
}

/// Rows to be put into a table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Insert {
    pub(crate) table: &'static str,
    pub(crate) columns: &'static [Column],
    /// What follows, as `ON CONFLICT ...`. PostgreSQL wants no row twice where it says `DO UPDATE`.
    pub(crate) conflict: &'static str,
}

/// Rows to be looked up by their keys.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lookup {
    /// What is wanted of them.
    pub(crate) select: &'static str,
    /// The table.
    pub(crate) table: &'static str,
    /// The columns of the key.
    pub(crate) keys: &'static [Column],
}

fn list(names: impl Iterator<Item = String>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

fn arrays(columns: &[Column]) -> String {
    list(columns.iter().enumerate().map(|(at, column)| format!("${}::{}", at + 1, column.array())))
}

impl Insert {
    /// One row with one statement.
    pub(crate) fn single(&self) -> String {
        let names = list(self.columns.iter().map(|column| column.name().to_owned()));
        let values = list((1..=self.columns.len()).map(|at| format!("?{at}")));
        format!("INSERT INTO {} ({names}) VALUES ({values}) {}", self.table, self.conflict)
    }

    /// All rows with one statement, by arrays.
    pub(crate) fn by_arrays(&self) -> String {
        let names = list(self.columns.iter().map(|column| column.name().to_owned()));
        let arrays = arrays(self.columns);
        format!("INSERT INTO {} ({names}) SELECT * FROM unnest({arrays}) {}", self.table, self.conflict)
    }
}

impl Lookup {
    fn matching(&self, value: impl Fn(usize) -> String) -> String {
        let each = self.keys.iter().enumerate();
        let equal = each.map(|(at, column)| format!("{}.{} = {}", self.table, column.name(), value(at + 1)));
        equal.collect::<Vec<_>>().join(" AND ")
    }

    /// One row with one statement.
    pub(crate) fn single(&self) -> String {
        format!("SELECT {} FROM {} WHERE {}", self.select, self.table, self.matching(|at| format!("?{at}")))
    }

    /// All rows with one statement, by arrays.
    pub(crate) fn by_arrays(&self) -> String {
        let arrays = arrays(self.keys);
        let names = list((1..=self.keys.len()).map(|at| format!("k{at}")));
        let on = self.matching(|at| format!("wanted.k{at}"));
        format!("SELECT {} FROM unnest({arrays}) AS wanted({names}) JOIN {} ON {on}", self.select, self.table)
    }
}

/// Turns rows into columns.
pub(crate) fn column(rows: &[Vec<Value>], at: usize) -> impl Iterator<Item = &Value> {
    rows.iter().filter_map(move |row| row.get(at))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn statements_read_as_they_should() {
        let insert = Insert { table: "t", columns: &[Column::Int("a"), Column::Blob("b")], conflict: "" };
        assert_eq!(insert.single().trim(), "INSERT INTO t (a, b) VALUES (?1, ?2)");
        let arrays = "INSERT INTO t (a, b) SELECT * FROM unnest($1::bigint[], $2::bytea[])";
        assert_eq!(insert.by_arrays().trim(), arrays);
        let lookup = Lookup { select: "t.c", table: "t", keys: &[Column::Int("a"), Column::Text("b")] };
        assert_eq!(lookup.single(), "SELECT t.c FROM t WHERE t.a = ?1 AND t.b = ?2");
        let arrays = "SELECT t.c FROM unnest($1::bigint[], $2::text[]) AS wanted(k1, k2) \
                      JOIN t ON t.a = wanted.k1 AND t.b = wanted.k2";
        assert_eq!(lookup.by_arrays(), arrays);
    }
}
