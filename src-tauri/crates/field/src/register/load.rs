//! Loading a register: read, check, replace, report.

use std::collections::BTreeMap;

use domain::visit::bounds;
use store::{InstrumentRow, RegisterName, SENSOR_RANGES, Whereabouts};

use super::file::{self, Register, Row};
use crate::view::{RegisterReport, RowProblem};
use crate::{Error, Phone, tag};

impl Phone {
    /// Loads a register from an upload, in place of the one before.
    ///
    /// Good rows load whatever becomes of the others, and each bad one is named. A file with no good row
    /// changes nothing.
    ///
    /// # Errors
    ///
    /// What the upload and the store give. A bad file is no error but a report.
    pub fn register_load(&self, upload: &str) -> Result<RegisterReport, Error> {
        let bytes = self.take_upload(upload)?;
        let mut register = match file::read(&bytes) {
            Ok(register) => register,
            Err(problem) => return Ok(refused(vec![problem])),
        };
        leave_out_bad_values(&mut register);
        leave_out_double_tags(&mut register);
        name_shared_codes(&mut register);
        register.problems.sort_by_key(|problem| problem.row);
        if register.rows.is_empty() {
            return Ok(refused(register.problems));
        }
        let name = RegisterName { name: register.name, dated: register.date };
        let rows = register.rows.iter().map(|row| InstrumentRow::of(&row.instrument));
        let rows = rows.collect::<Result<Vec<_>, _>>()?;
        let sensors =
            serde_json::to_string(&register.sensor_ranges).map_err(|_| Error::UnreadableInstrument)?;
        let whereabouts = register.rows.iter().filter_map(|row| Whereabouts::of(&row.instrument));
        let settings = [(SENSOR_RANGES, sensors.as_str())];
        let loaded = self.store().replace_register(&name, rows, whereabouts, &settings)?;
        self.forget_index();
        Ok(report(loaded, register.problems))
    }
}

fn refused(problems: Vec<RowProblem>) -> RegisterReport {
    let text = "Nothing was loaded; the register on this phone stays as it was.".into();
    RegisterReport { loaded: 0, problems, text }
}

fn report(loaded: u32, problems: Vec<RowProblem>) -> RegisterReport {
    let instruments = if loaded == 1 { "1 instrument".into() } else { format!("{loaded} instruments") };
    let text = match problems.len() {
        0 => format!("{instruments} loaded."),
        1 => format!("{instruments} loaded. One thing in the file needs correcting."),
        more => format!("{instruments} loaded. {more} things in the file need correcting."),
    };
    RegisterReport { loaded, problems, text }
}

fn leave_out_bad_values(register: &mut Register) {
    let problems = &mut register.problems;
    register.rows.retain(|row| {
        let found = bounds::of_row(&row.instrument);
        let good = found.is_empty();
        problems.extend(found.into_iter().map(|(field, text)| problem(row, &field, text)));
        good
    });
}

/// Where two rows have one tag nobody can say which is right, so neither loads.
fn leave_out_double_tags(register: &mut Register) {
    let mut places: BTreeMap<String, Vec<u32>> = BTreeMap::new();
    for row in &register.rows {
        places.entry(tag::key(&row.instrument.tag).0).or_default().push(row.place);
    }
    let problems = &mut register.problems;
    register.rows.retain(|row| {
        let same = places.get(&tag::key(&row.instrument.tag).0).map_or(&[][..], Vec::as_slice);
        if same.len() < 2 {
            return true;
        }
        let text = format!(
            "Rows {} have this tag, case and separators aside, so none of them was loaded. Leave one in.",
            list(same)
        );
        problems.push(problem(row, "tag", text));
        false
    });
}

/// A code that leads to two instruments is said and kept: the person at the instrument can tell which it is.
fn name_shared_codes(register: &mut Register) {
    let mut places: BTreeMap<&str, Vec<u32>> = BTreeMap::new();
    for row in &register.rows {
        let mut codes: Vec<&str> = row.instrument.codes.iter().map(|code| code.trim()).collect();
        codes.sort_unstable();
        codes.dedup();
        for code in codes {
            places.entry(code).or_default().push(row.place);
        }
    }
    let mut found = Vec::new();
    for row in &register.rows {
        for code in &row.instrument.codes {
            let same = places.get(code.trim()).map_or(&[][..], Vec::as_slice);
            if same.len() > 1 {
                let text = format!(
                    "Rows {} claim one code. They were loaded, and scanning it asks which is meant. Leave the \
                     code with one of them.",
                    list(same)
                );
                found.push(problem(row, "codes", text));
            }
        }
    }
    register.problems.extend(found);
}

fn problem(row: &Row, field: &str, text: String) -> RowProblem {
    RowProblem { row: row.place, tag: row.instrument.tag.clone(), field: field.into(), text }
}

fn list(places: &[u32]) -> String {
    let places: Vec<String> = places.iter().map(u32::to_string).collect();
    match places.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => places.concat(),
    }
}
