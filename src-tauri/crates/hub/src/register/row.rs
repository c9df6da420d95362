//! A row, from its fields to an instrument that can be used.

use domain::visit::{Fault, Instrument, SensorRange, bounds};
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::Problem;

/// A row that can be used, and where it goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InstrumentRow {
    /// The line of the table, or the place in the list, from 1.
    pub line: u64,
    /// The area whose phones get it.
    pub area: String,
    /// The instrument.
    pub instrument: Instrument,
}

/// What came in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Incoming {
    /// Rows that can be used.
    pub rows: Vec<InstrumentRow>,
    /// Sensors that could be fitted; a table has none.
    pub sensor_ranges: Vec<SensorRange>,
    /// What is wrong, in the order of the file.
    pub problems: Vec<Problem>,
}

impl Incoming {
    /// Returns a register that is none, for one reason.
    pub(super) fn refused(column: &str, text: impl Into<String>) -> Incoming {
        let problem =
            Problem { line: 0, tag: String::new(), column: column.into(), text: text.into(), taken: false };
        Incoming { problems: vec![problem], ..Incoming::default() }
    }

    /// Returns whether every row can be used.
    #[must_use]
    pub fn is_good(&self) -> bool {
        self.problems.iter().all(|problem| problem.taken)
    }
}

/// Reads and judges one row.
pub(super) fn instrument(line: u64, fields: Value) -> Result<Instrument, Vec<Problem>> {
    let tag = fields.get("tag").and_then(Value::as_str).unwrap_or_default().trim().to_owned();
    let problem = |column, text| Problem { line, tag: tag.clone(), column, text, taken: false };
    let instrument: Instrument = one(fields).map_err(|(column, text)| vec![problem(column, text)])?;
    let wrong = bounds::of_row(&instrument);
    if wrong.is_empty() {
        return Ok(instrument);
    }
    Err(wrong.into_iter().map(|(column, text)| problem(column, text)).collect())
}

/// Reads one row of a list, or says which field is wrong and what to write.
pub(super) fn one<T: DeserializeOwned>(fields: Value) -> Result<T, (String, String)> {
    serde_path_to_error::deserialize(fields).map_err(|error| {
        let path = error.path().to_string();
        let Fault { field, text } = Fault::unread(&path, &error.inner().to_string());
        (field, text)
    })
}
