//! Whether the values of a row can be used: what a technician would else find out at the foot of a tower.
//!
//! What values mean is said by [`Known::read`]. Here stand beside it the bounds of a register that anyone may have
//! written, the same on a phone and on the hub.

use super::{Filling, Instrument, Known};

/// The longest text of a field, in characters.
const LONGEST_TEXT: usize = 2_000;
/// The longest tag, service, site or serial number: they stand on one line of a screen.
const LONGEST_LINE: usize = 120;
/// The most codes, safety items or tapes of one instrument.
const MOST_ITEMS: usize = 100;

/// Returns what is wrong with a row: each field, and what to do. Nothing where the row can be used.
#[must_use]
pub fn of_row(row: &Instrument) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for (field, text) in [
        ("tag", &row.tag),
        ("service", &row.service),
        ("serial", &row.serial),
        ("site.name", &row.site.name),
        ("unit", &row.unit),
        ("liquid.name", &row.liquid.name),
    ] {
        line(field, text, &mut found);
    }
    for (field, filling) in fillings(row) {
        line(field, &filling.name, &mut found);
    }
    let lists = [("codes", row.codes.len()), ("safety", row.safety.len()), ("back", row.back.len())];
    for (field, length) in
        lists.into_iter().chain([("tapes", row.tapes.len()), ("earlier", row.earlier.len())])
    {
        if length > MOST_ITEMS {
            found.push((field.into(), format!("The list is longer than {MOST_ITEMS}. Shorten it.")));
        }
    }
    let notes = [
        ("adjust_note", &row.adjust_note),
        ("site.hazards.note", &row.site.hazards.note),
        ("work", &row.work),
    ];
    let codes = row.codes.iter().map(|code| ("codes", code));
    let items = row.safety.iter().map(|item| ("safety", item));
    let back = row.back.iter().map(|item| ("back", item));
    for (field, text) in notes.into_iter().chain(codes).chain(items).chain(back) {
        if text.chars().count() > LONGEST_TEXT {
            let what = format!("The text is longer than {LONGEST_TEXT} characters. Shorten it.");
            found.push((field.into(), what));
        }
    }
    for (at, visit) in row.earlier.iter().enumerate() {
        let texts = [&visit.serial, &visit.tape, &visit.date];
        if texts.iter().any(|text| text.chars().count() > LONGEST_LINE || text.chars().any(char::is_control))
        {
            let what = "A text is longer than 120 characters or holds a line break. Shorten it.";
            found.push((format!("earlier[{at}]"), what.into()));
        }
    }
    if row.codes.iter().any(|code| code.trim().is_empty()) {
        found.push(("codes".into(), "A code is empty. Write its whole text, or take it out.".into()));
    }
    if let Err(faults) = Known::read(row) {
        found.extend(faults.into_iter().map(|fault| (fault.field, fault.text)));
    }
    found
}

fn line(field: &str, text: &str, found: &mut Vec<(String, String)>) {
    let what = if text.trim().is_empty() {
        "Nothing is written. Write it in."
    } else if text.chars().count() > LONGEST_LINE {
        "The text is longer than 120 characters. Shorten it."
    } else if text.chars().any(char::is_control) {
        "The text holds a line break or another control character. Write it on one line."
    } else {
        return;
    };
    found.push((field.into(), what.into()));
}

fn fillings(row: &Instrument) -> impl Iterator<Item = (&'static str, &Filling)> {
    let mounted = row.mounting.iter();
    mounted.flat_map(|mounted| {
        [("mounting.fill.name", mounted.fill.as_ref()), ("mounting.light.name", mounted.light.as_ref())]
            .into_iter()
            .filter_map(|(field, filling)| Some((field, filling?)))
    })
}
