//! A register's own file, as a phone loads it too.

use serde::Deserialize;
use serde_json::Value;

use super::row::{instrument, one};
use super::{Incoming, InstrumentRow, Problem, areas, doubles};

/// What stands under `format` in a file of this form.
const FORMAT: &str = "headmark-register/1";

#[derive(Deserialize)]
struct Outer {
    format: String,
    instruments: Vec<Value>,
    #[serde(default)]
    sensor_ranges: Vec<Value>,
}

/// Reads a register's own file. The area of a row is the field that `area` names (`site.name`), or none.
#[must_use]
pub fn read_file(bytes: &[u8], area: Option<&str>) -> Incoming {
    // Some editors put a mark before the text that says how it is written.
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let outer: Outer = match serde_json::from_slice(bytes) {
        Ok(outer) => outer,
        Err(error) => {
            let text = format!("It is no register: {error}. Correct that place, or ask for the file again.");
            return Incoming::refused("", text);
        }
    };
    if outer.format != FORMAT {
        let text = format!("It does not say \"format\": \"{FORMAT}\". Ask for a register in this form.");
        return Incoming::refused("format", text);
    }
    let mut incoming = Incoming::default();
    for (line, fields) in (1..).zip(outer.instruments) {
        let area = area.and_then(|name| at(&fields, name)).unwrap_or_default();
        match instrument(line, fields) {
            Ok(instrument) => incoming.rows.push(InstrumentRow { line, area, instrument }),
            Err(problems) => incoming.problems.extend(problems),
        }
    }
    sensor_ranges(outer.sensor_ranges, &mut incoming);
    areas::settle(&mut incoming);
    doubles::settle(&mut incoming);
    incoming
}

fn sensor_ranges(list: Vec<Value>, incoming: &mut Incoming) {
    for (line, fields) in (1..).zip(list) {
        let tag = fields.get("name").and_then(Value::as_str).unwrap_or_default().to_owned();
        let mut wrong = |column: String, text| {
            let column = format!("sensor_ranges.{column}");
            incoming.problems.push(Problem { line, tag: tag.clone(), column, text, taken: false });
        };
        match one::<domain::visit::SensorRange>(fields) {
            Err((column, text)) => wrong(column, text),
            Ok(row) => match row.read() {
                Err(faults) => faults.into_iter().for_each(|fault| wrong(fault.field, fault.text)),
                Ok(_) => incoming.sensor_ranges.push(row),
            },
        }
    }
}

fn at(fields: &Value, name: &str) -> Option<String> {
    let found = name.split('.').try_fold(fields, |value, part| value.get(part))?;
    Some(found.as_str()?.trim().to_owned())
}
