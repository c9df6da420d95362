//! A table of instruments (CSV, RFC 4180), as any spreadsheet writes it. `REGISTER-CSV.md` describes it for those who
//! make one.

use std::collections::BTreeSet;

use csv::{ByteRecord, ReaderBuilder};

use super::columns::{Column, of_name};
use super::lines::Lines;
use super::{Incoming, InstrumentRow, Problem, areas, cells, doubles, row};

/// The most lines: a register that is larger comes in pieces.
const MOST_LINES: usize = 200_000;

/// Reads a table. The area of a row is what stands in the column named by `area`, which may be one of the register's
/// fields or a column of its own.
#[must_use]
pub fn read_table(bytes: &[u8], area: Option<&str>) -> Incoming {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let separator = separator(bytes);
    let mut reader =
        ReaderBuilder::new().delimiter(separator).has_headers(false).flexible(true).from_reader(bytes);
    let mut records = reader.byte_records();
    let header = match records.next() {
        Some(Ok(header)) => header,
        Some(Err(error)) => return Incoming::refused("", format!("It cannot be read as a table: {error}.")),
        None => {
            return Incoming::refused("", "It is empty. Write the names of the columns into its first line.");
        }
    };
    let (head, mut problems) = Head::read(&header, area);
    if !problems.is_empty() {
        problems.sort();
        return Incoming { problems, ..Incoming::default() };
    }
    let mut incoming = Incoming::default();
    let mut lines = Lines::of(bytes);
    for record in records.take(MOST_LINES + 1) {
        match record {
            Ok(record) => line(&head, &record, &mut lines, &mut incoming),
            Err(error) => return Incoming::refused("", format!("It cannot be read as a table: {error}.")),
        }
    }
    if incoming.rows.len() + incoming.problems.len() > MOST_LINES {
        return Incoming::refused(
            "",
            format!("It has more than {MOST_LINES} lines. Bring it in several files."),
        );
    }
    if incoming.rows.is_empty() && incoming.problems.is_empty() {
        return Incoming::refused(
            "",
            "It names columns and no instrument. Write a line for each instrument.",
        );
    }
    areas::settle(&mut incoming);
    doubles::settle(&mut incoming);
    incoming
}

/// The separator is the one of the two that stands more often in the first line: names of columns hold neither.
fn separator(bytes: &[u8]) -> u8 {
    let first = bytes.split(|byte| matches!(byte, b'\n' | b'\r')).next().unwrap_or_default();
    let count = |wanted: u8| first.iter().filter(|byte| **byte == wanted).count();
    if count(b';') > count(b',') { b';' } else { b',' }
}

/// The first line.
struct Head {
    /// Each column's name as written, and what it is; none for a column that only says the area.
    columns: Vec<(String, Option<Column>)>,
    area: Option<usize>,
}

impl Head {
    fn read(header: &ByteRecord, area: Option<&str>) -> (Head, Vec<Problem>) {
        let mut problems = Vec::new();
        let mut wrong = |column: &str, text: &str| {
            let (column, text) = (column.to_owned(), text.to_owned());
            problems.push(Problem { line: 1, tag: String::new(), column, text, taken: false });
        };
        let mut columns: Vec<(String, Option<Column>)> = Vec::new();
        let mut seen = BTreeSet::new();
        for name in header {
            let name = String::from_utf8_lossy(name).trim().to_owned();
            let column = of_name(&name).filter(|_| !name.split('.').any(|part| part == "N"));
            if !seen.insert(name.clone()) {
                wrong(&name, "The column stands there twice. Leave one in.");
            } else if column.is_none() && area != Some(name.as_str()) {
                wrong(
                    &name,
                    "There is no such field. Check how it is spelt (REGISTER-CSV.md lists them), or take the column out.",
                );
            }
            columns.push((name, column));
        }
        let place = area.and_then(|area| columns.iter().position(|(name, _)| name == area));
        if let (Some(area), None) = (area, place) {
            wrong(
                area,
                "The column that is to give the area is not there. Add it, or name another with --area.",
            );
        }
        for needed in super::columns().iter().filter(|column| column.needed && !seen.contains(column.name)) {
            wrong(
                needed.name,
                "The column is missing. Add it; the first line holds the names of the columns.",
            );
        }
        (Head { columns, area: place }, problems)
    }
}

fn line(head: &Head, record: &ByteRecord, lines: &mut Lines<'_>, incoming: &mut Incoming) {
    let place = record.position().map_or(0, csv::Position::byte);
    let line = lines.at(usize::try_from(place).unwrap_or(usize::MAX));
    if record.iter().all(|cell| cell.iter().all(u8::is_ascii_whitespace)) {
        return;
    }
    match fields(head, record, line) {
        Ok(row) => incoming.rows.push(row),
        Err(problems) => incoming.problems.extend(problems),
    }
}

fn fields(head: &Head, record: &ByteRecord, line: u64) -> Result<InstrumentRow, Vec<Problem>> {
    let texts = texts(head, record, line)?;
    let named = head.columns.iter().zip(&texts);
    let tag = named.clone().find(|((name, _), _)| name == "tag").map_or("", |(_, text)| text.trim());
    let problem =
        |column: String, text: String| Problem { line, tag: tag.to_owned(), column, text, taken: false };
    let cells = named.filter_map(|((name, column), text)| Some((name.as_str(), (*column)?, *text)));
    let value = cells::row(cells)
        .map_err(|found| found.into_iter().map(|(column, text)| problem(column, text)).collect::<Vec<_>>())?;
    let instrument = row::instrument(line, value)?;
    let area = head.area.and_then(|at| texts.get(at)).map_or("", |text| text.trim()).to_owned();
    Ok(InstrumentRow { line, area, instrument })
}

fn texts<'r>(head: &Head, record: &'r ByteRecord, line: u64) -> Result<Vec<&'r str>, Vec<Problem>> {
    let problem = |column: &str, text: String| {
        vec![Problem { line, tag: String::new(), column: column.to_owned(), text, taken: false }]
    };
    let (cells, columns) = (record.len(), head.columns.len());
    if cells > columns && record.iter().skip(columns).any(|cell| !cell.is_empty()) {
        let text = format!(
            "The line has {cells} cells and there are {columns} columns. Put a cell that holds the separator between double quotes."
        );
        return Err(problem("", text));
    }
    let mut texts = Vec::with_capacity(columns);
    for (at, (name, _)) in head.columns.iter().enumerate() {
        let cell = record.get(at).unwrap_or_default();
        let text = std::str::from_utf8(cell).map_err(|_| {
            problem(name, "It is not written in UTF-8. Save the table as \"CSV UTF-8\".".to_owned())
        })?;
        texts.push(text);
    }
    Ok(texts)
}
