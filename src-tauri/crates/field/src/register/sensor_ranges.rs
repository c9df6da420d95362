//! The table of sensors that could be fitted, and where it is kept on the phone.
//!
//! It belongs to the register as a whole: loaded from a file with it in one step, and gone with the next one, or fed by
//! the hub.

use std::collections::BTreeMap;

use domain::visit::SensorRange;
use serde::Deserialize;
use serde_json::value::RawValue;
use store::SENSOR_RANGES;

use super::file;
use crate::view::RowProblem;
use crate::{Error, Phone};

/// What the table is called in the register file.
const LIST: &str = "sensor_ranges";
/// The most sensor ranges of one register.
const MOST: usize = 500;
/// The longest name, in characters: it stands on one line.
const LONGEST_NAME: usize = 60;

/// Only what a problem needs to be found again.
#[derive(Deserialize)]
struct Named {
    name: String,
}

/// Reads the table: what is good, and each bad row with its field.
pub(super) fn read(raws: &[&RawValue]) -> (Vec<SensorRange>, Vec<RowProblem>) {
    let (mut good, mut problems) = (Vec::new(), Vec::new());
    let mut first: BTreeMap<String, u32> = BTreeMap::new();
    if raws.len() > MOST {
        problems.push(problem(0, "", "", format!("The list is longer than {MOST}. Shorten it.")));
        return (good, problems);
    }
    for (place, raw) in (1u32..).zip(raws) {
        let row: SensorRange = match file::one(raw) {
            Ok(row) => row,
            Err((field, text)) => {
                let named = serde_json::from_str::<Named>(raw.get());
                problems.push(problem(
                    place,
                    &named.map_or_else(|_| String::new(), |row| row.name),
                    &field,
                    text,
                ));
                continue;
            }
        };
        let mut found = faults(&row);
        if let Some(before) = first.get(row.name.trim()) {
            let text = format!("Row {before} of this list has the same name. Give each its own.");
            found.push(("name".into(), text));
        }
        first.entry(row.name.trim().to_owned()).or_insert(place);
        if found.is_empty() {
            good.push(row);
        } else {
            problems.extend(found.into_iter().map(|(field, text)| problem(place, &row.name, &field, text)));
        }
    }
    (good, problems)
}

fn faults(row: &SensorRange) -> Vec<(String, String)> {
    let mut found = Vec::new();
    if row.name.chars().count() > LONGEST_NAME || row.name.chars().any(char::is_control) {
        let text = format!("Write the name on one line, in up to {LONGEST_NAME} characters.");
        found.push(("name".into(), text));
    }
    if let Err(faults) = row.read() {
        found.extend(faults.into_iter().map(|fault| (fault.field, fault.text)));
    }
    found
}

fn problem(row: u32, name: &str, field: &str, text: String) -> RowProblem {
    let field = if field.is_empty() { LIST.to_owned() } else { format!("{LIST}.{field}") };
    RowProblem { row, tag: name.to_owned(), field, text }
}

impl Phone {
    /// Returns the sensors that could be fitted, as the register that is loaded lists them.
    pub(crate) fn sensor_ranges(&self) -> Result<Vec<SensorRange>, Error> {
        let Some(text) = self.store().setting(SENSOR_RANGES)? else { return Ok(Vec::new()) };
        serde_json::from_str(&text).map_err(|_| Error::UnreadableInstrument)
    }
}
