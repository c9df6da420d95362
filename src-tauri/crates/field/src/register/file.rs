//! The file itself: one JSON object, with a row for each instrument.
//!
//! Rows are cut out as text first and read one by one, so that one bad row costs no other, and so that a
//! problem can name the row it stands in.

use domain::visit::{Fault, Instrument, SensorRange};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::value::RawValue;

use super::sensor_ranges;
use crate::view::RowProblem;

/// What stands under `format` in a file of this form.
pub(crate) const FORMAT: &str = "headmark-register/1";

/// A register as it was read.
#[derive(Debug)]
pub(crate) struct Register {
    pub(crate) name: String,
    pub(crate) date: String,
    pub(crate) rows: Vec<Row>,
    pub(crate) sensor_ranges: Vec<SensorRange>,
    pub(crate) problems: Vec<RowProblem>,
}

/// A row that could be read.
#[derive(Debug)]
pub(crate) struct Row {
    /// Its place in the file, from 1.
    pub(crate) place: u32,
    pub(crate) instrument: Instrument,
}

#[derive(Deserialize)]
struct Outer<'a> {
    format: String,
    name: String,
    date: String,
    #[serde(borrow)]
    instruments: Vec<&'a RawValue>,
    /// Sensors that could be fitted; an older file has none.
    #[serde(borrow, default)]
    sensor_ranges: Vec<&'a RawValue>,
}

/// Only what a problem needs to be found again.
#[derive(Deserialize)]
struct Tagged {
    tag: String,
}

/// Reads a file. A file that is no register at all gives the one problem that says why.
pub(crate) fn read(bytes: &[u8]) -> Result<Register, RowProblem> {
    // Some editors put a mark before the text that says how it is written.
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let outer: Outer<'_> = serde_json::from_slice(bytes).map_err(|error| of_file(&error))?;
    if outer.format != FORMAT {
        let text = format!(
            "The file does not say \"format\": \"{FORMAT}\", so it is no register that this version reads. \
             Ask for one in this form."
        );
        return Err(RowProblem { row: 0, tag: String::new(), field: "format".into(), text });
    }
    let (sensor_ranges, problems) = sensor_ranges::read(&outer.sensor_ranges);
    let mut register =
        Register { name: outer.name, date: outer.date, rows: Vec::new(), sensor_ranges, problems };
    for (place, raw) in (1u32..).zip(outer.instruments) {
        match row(raw) {
            Ok(instrument) => register.rows.push(Row { place, instrument }),
            Err((tag, field, text)) => register.problems.push(RowProblem { row: place, tag, field, text }),
        }
    }
    Ok(register)
}

fn row(raw: &RawValue) -> Result<Instrument, (String, String, String)> {
    one(raw).map_err(|(field, text)| {
        let tag = serde_json::from_str::<Tagged>(raw.get()).map_or_else(|_| String::new(), |row| row.tag);
        (tag, field, text)
    })
}

/// Reads one row of a list, or says which field is wrong and what to write.
pub(super) fn one<T: DeserializeOwned>(raw: &RawValue) -> Result<T, (String, String)> {
    let mut reader = serde_json::Deserializer::from_str(raw.get());
    serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let path = error.path().to_string();
        let said = error.inner().to_string();
        let what = said.split(" at line ").next().unwrap_or_default();
        let Fault { field, text } = Fault::unread(&path, what);
        (field, text)
    })
}

fn of_file(error: &serde_json::Error) -> RowProblem {
    let text = if error.is_eof() {
        "The file ends before it is complete. Nothing of it was loaded; copy it again.".to_owned()
    } else if error.is_data() {
        format!("The file is no register: {error}. Nothing of it was loaded; ask for one in the right form.")
    } else {
        format!(
            "The file is not readable as JSON: {error}. Nothing of it was loaded; correct that place, or copy \
             the file again."
        )
    };
    RowProblem { row: 0, tag: String::new(), field: String::new(), text }
}
