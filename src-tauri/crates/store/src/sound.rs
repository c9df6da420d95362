//! Whether the file is sound: every page of it, every index against its table, and every tree by itself.

use rusqlite::{Connection, OptionalExtension};

use crate::Error;

/// Goes through the whole file.
pub(crate) fn sound(connection: &Connection) -> Result<(), Error> {
    let answer: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if answer != "ok" {
        return Err(Error::Unreadable { what: answer });
    }
    trees(connection)
}

/// Looks into every tree. SQLite's check says nothing of one without a row whose only page is of the wrong sort, and every
/// use of that fails.
fn trees(connection: &Connection) -> Result<(), Error> {
    let mut statement = connection.prepare(
        "SELECT tree.type, tree.name, tree.tbl_name, coalesce(tree.sql, ''), \
         (SELECT name FROM pragma_index_info(tree.name) WHERE seqno = 0) \
         FROM sqlite_schema AS tree WHERE tree.rootpage > 0",
    )?;
    let rows = statement.query_map([], |row| {
        let names = (row.get::<_, String>(1)?, row.get::<_, String>(2)?);
        Ok((row.get::<_, String>(0)?, names, row.get::<_, String>(3)?, row.get::<_, Option<String>>(4)?))
    })?;
    for row in rows {
        let (sort, (name, table), sql, first) = row?;
        let look = match first.filter(|_| sort == "index") {
            None => format!("SELECT 1 FROM {} NOT INDEXED LIMIT 1", quoted(&table)),
            Some(first) => {
                // An index over some of the rows answers only who asks for those.
                let of = sql.split_once(" WHERE ").map_or(String::new(), |(_, of)| format!("WHERE {of}"));
                let (table, name, first) = (quoted(&table), quoted(&name), quoted(&first));
                format!("SELECT 1 FROM {table} INDEXED BY {name} {of} ORDER BY {first} LIMIT 1")
            }
        };
        connection.query_row(&look, [], |_| Ok(())).optional()?;
    }
    Ok(())
}

/// A name as SQL has it.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}
