//! Rows as SQLite writes them: a header of types, then the values.

/// A value of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Value {
    Null,
    Number(i64),
    Bytes(Vec<u8>),
    Text(String),
}

/// The most columns that a row of ours has.
const MOST_COLUMNS: usize = 16;

/// Reads a number of one to nine bytes, seven bits in each but the ninth.
pub(super) fn varint(from: &mut &[u8]) -> Option<u64> {
    let mut number = 0u64;
    for at in 0..9 {
        let (byte, rest) = from.split_first()?;
        *from = rest;
        if at == 8 {
            return Some(number << 8 | u64::from(*byte));
        }
        number = number << 7 | u64::from(byte & 0x7f);
        if byte & 0x80 == 0 {
            return Some(number);
        }
    }
    None
}

/// Whether a row's header may begin here: it says its own length, which is short for rows of ours.
pub(super) fn may_begin(mut from: &[u8]) -> bool {
    varint(&mut from).is_some_and(|length| (3..=9 * MOST_COLUMNS as u64 + 1).contains(&length))
}

/// Reads a row; none for what is none, or holds what no row of ours holds.
pub(super) fn record(payload: &[u8]) -> Option<Vec<Value>> {
    let mut rest = payload;
    let head = usize::try_from(varint(&mut rest)?).ok()?;
    let begun = payload.len() - rest.len();
    let mut types = payload.get(begun..head)?;
    let mut body = payload.get(head..)?;
    let mut values = Vec::new();
    while !types.is_empty() {
        if values.len() == MOST_COLUMNS {
            return None;
        }
        values.push(value(varint(&mut types)?, &mut body)?);
    }
    body.is_empty().then_some(values)
}

fn value(kind: u64, body: &mut &[u8]) -> Option<Value> {
    let mut take = |length: usize| {
        let (value, rest) = body.split_at_checked(length)?;
        *body = rest;
        Some(value)
    };
    Some(match kind {
        0 => Value::Null,
        1..=4 => Value::Number(signed(take(usize::try_from(kind).ok()?)?)),
        5 => Value::Number(signed(take(6)?)),
        6 => Value::Number(signed(take(8)?)),
        8 => Value::Number(0),
        9 => Value::Number(1),
        12.. if kind.is_multiple_of(2) => {
            Value::Bytes(take(usize::try_from((kind - 12) / 2).ok()?)?.to_vec())
        }
        13.. => Value::Text(String::from_utf8(take(usize::try_from((kind - 13) / 2).ok()?)?.to_vec()).ok()?),
        _ => return None,
    })
}

/// Reads a whole number with its sign, most significant byte first.
fn signed(bytes: &[u8]) -> i64 {
    let fill = if bytes.first().is_some_and(|byte| byte & 0x80 != 0) { -1 } else { 0 };
    bytes.iter().fold(fill, |number, byte| number << 8 | i64::from(*byte))
}

#[cfg(test)]
mod tests {
    use rusqlite::types::Value as Theirs;

    use super::*;

    /// SQLite writes the rows; we read them off its pages.
    #[test]
    fn rows_are_read_as_sqlite_wrote_them() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.db");
        let rows: Vec<Vec<Theirs>> =
            [0i64, 1, -1, 127, -128, 40_000, -8_388_608, 1 << 40, i64::MIN, i64::MAX]
                .iter()
                .map(|number| {
                    let length = usize::try_from(number.unsigned_abs() % 20_000).unwrap();
                    vec![
                        Theirs::Integer(*number),
                        Theirs::Blob(vec![7; length]),
                        Theirs::Text("é".repeat(length % 300)),
                        Theirs::Null,
                    ]
                })
                .collect();
        let connection = rusqlite::Connection::open(&path).unwrap();
        connection.execute_batch("PRAGMA page_size = 4096; CREATE TABLE t (a, b, c, d)").unwrap();
        for row in &rows {
            connection
                .execute("INSERT INTO t VALUES (?1, ?2, ?3, ?4)", rusqlite::params_from_iter(row))
                .unwrap();
        }
        drop(connection);
        let pages = super::super::pages::Pages::read(&path).unwrap();
        let mut read: Vec<(i64, Vec<Value>)> = (pages.numbers().into_iter().filter(|page| *page > 1))
            .flat_map(|page| super::super::cells::rows(&pages, page))
            .map(|row| (row.rowid, row.values))
            .filter(|(_, values)| values.len() == 4)
            .collect();
        read.sort_by_key(|(rowid, _)| *rowid);
        let expected: Vec<(i64, Vec<Value>)> =
            (1..).zip(rows.into_iter().map(|row| row.into_iter().map(ours).collect())).collect();
        assert_eq!(read, expected);
    }

    fn ours(theirs: Theirs) -> Value {
        match theirs {
            Theirs::Null => Value::Null,
            Theirs::Integer(number) => Value::Number(number),
            Theirs::Text(text) => Value::Text(text),
            Theirs::Blob(bytes) => Value::Bytes(bytes),
            Theirs::Real(_) => unreachable!("none was written"),
        }
    }
}
