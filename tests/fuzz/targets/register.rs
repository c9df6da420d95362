//! A register row from anywhere: as JSON, and as the texts of a good row replaced one by one.
//!
//! A fuzzer seldom hits on JSON that holds every field, so most of what it finds would end at the first brace.
//! Lines that stand for fields reach what reads their values.
#![no_main]

use domain::visit::{Instrument, Known};
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

const ROW: &str = include_str!("../seeds/register/row");

/// Replaces the texts of a value, in the order in which they stand; an empty line leaves one as it is.
fn replace<'t>(value: &mut Value, lines: &mut impl Iterator<Item = &'t str>) {
    match value {
        Value::String(text) => {
            if let Some(line) = lines.next().filter(|line| !line.is_empty()) {
                line.clone_into(text);
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| replace(item, lines)),
        Value::Object(fields) => fields.values_mut().for_each(|field| replace(field, lines)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn check(row: &Instrument) {
    if let Err(faults) = Known::read(row) {
        assert!(!faults.is_empty());
        assert!(faults.iter().all(|fault| !fault.field.is_empty() && !fault.text.is_empty()));
    }
}

fuzz_target!(|text: &str| {
    if let Ok(row) = serde_json::from_str::<Instrument>(text) {
        return check(&row);
    }
    let mut row: Value = serde_json::from_str(ROW).expect("the good row is JSON");
    replace(&mut row, &mut text.lines());
    check(&serde_json::from_value(row).expect("only texts were replaced"));
});
