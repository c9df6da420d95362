//! What a proposal would make of a row of the register.

use bodies::{Proposed, UnitFitted};
use domain::visit::{Instrument, bounds};
use serde_json::Value;

/// A field that would say something else.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Change {
    /// The field, as a register's own file names it: `serial`, `limits.url`.
    pub field: String,
    /// What it says now; empty where it says nothing.
    pub from: String,
    /// What it would say.
    pub to: String,
}

/// Returns the row as a proposal would have it.
///
/// # Errors
///
/// Why it cannot be so, in a sentence for whoever decides.
pub fn applied(mut instrument: Instrument, what: &Proposed) -> Result<Instrument, String> {
    match what {
        Proposed::Code(code) => {
            if !holds(&instrument, code) {
                instrument.codes.push(code.clone());
            }
        }
        Proposed::Unit(unit) => fit(&mut instrument, unit)?,
    }
    match bounds::of_row(&instrument).into_iter().next() {
        None => Ok(instrument),
        Some((field, text)) => {
            Err(format!("The register cannot say this: {field}: {text} Decline the proposal."))
        }
    }
}

fn fit(instrument: &mut Instrument, unit: &UnitFitted) -> Result<(), String> {
    if instrument.serial == unit.serial {
        instrument.limits = unit.limits.clone();
        return Ok(());
    }
    if instrument.serial != unit.before {
        let text = "The register names a third serial number meanwhile. Look at the plate, then correct the register.";
        return Err(text.to_owned());
    }
    instrument.serial.clone_from(&unit.serial);
    instrument.limits = unit.limits.clone();
    // It was the old unit's.
    instrument.offset_on_record.clear();
    instrument.offset_date.clear();
    Ok(())
}

/// A code is the same with spaces around it, as phones compare it.
fn holds(instrument: &Instrument, code: &str) -> bool {
    instrument.codes.iter().any(|known| known.trim() == code.trim())
}

/// Returns whether a row says what was proposed, or has gone on from there.
#[must_use]
pub fn is_settled_in(instrument: &Instrument, what: &Proposed) -> bool {
    match what {
        Proposed::Code(code) => holds(instrument, code),
        Proposed::Unit(unit) => instrument.serial == unit.serial || instrument.serial != unit.before,
    }
}

/// Returns the fields in which two rows differ, by their names.
#[must_use]
pub fn changes(from: &Instrument, to: &Instrument) -> Vec<Change> {
    let value = |row: &Instrument| serde_json::to_value(row).unwrap_or_default();
    let mut found = Vec::new();
    compare("", &value(from), &value(to), &mut found);
    found.sort();
    found
}

fn compare(name: &str, from: &Value, to: &Value, found: &mut Vec<Change>) {
    match (from, to) {
        (Value::Object(from), Value::Object(to)) => {
            let fields: std::collections::BTreeSet<&String> = from.keys().chain(to.keys()).collect();
            for field in fields {
                let inner = if name.is_empty() { field.clone() } else { format!("{name}.{field}") };
                let (from, to) = (from.get(field), to.get(field));
                compare(&inner, from.unwrap_or(&Value::Null), to.unwrap_or(&Value::Null), found);
            }
        }
        (from, to) if from == to => {}
        (from, to) => found.push(Change { field: name.to_owned(), from: text(from), to: text(to) }),
    }
}

fn text(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Array(all) => all.iter().map(text).collect::<Vec<_>>().join("; "),
        other => other.to_string(),
    }
}
