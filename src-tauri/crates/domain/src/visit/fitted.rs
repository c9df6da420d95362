//! Another unit than the register's on the plate: its serial number and limits are its own, and nothing that was
//! recorded of the old one's offset holds for it.
//!
//! The visit keeps the register's row as it stood; what is fitted follows from the answers, so that whoever holds the
//! signed visit finds the same.

use super::{Ask, Choice, Draft, Fault, Instrument, Key, Known, Limits, Remark, Spot, Takes, asks::one_of};

/// Tells whether two serials are the same, separators and case aside.
pub(super) fn same_serial(one: &str, other: &str) -> bool {
    let plain = |text: &str| {
        text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>()
    };
    plain(one) == plain(other)
}

/// Tells whether a serial was read off the plate that is not the register's.
pub(super) fn serial_differs(draft: &Draft) -> bool {
    let read = draft.answers.text(Spot::of(Key::SerialRead)).trim();
    !read.is_empty() && !same_serial(read, &draft.instrument.serial)
}

/// Returns the row with the unit that is fitted, where the visit found another one than the register's.
#[must_use]
pub fn fitted(draft: &Draft) -> Option<Instrument> {
    let is_other = draft.answers.choice(Spot::of(Key::UnitFitted)) == Some(Choice::Yes);
    (is_other && serial_differs(draft)).then(|| {
        let text = |key| draft.answers.text(Spot::of(key)).trim();
        let mut row = draft.instrument.clone();
        text(Key::SerialRead).clone_into(&mut row.serial);
        let Limits { lrl, url, min_span, max_working, trim_limit, .. } = &mut row.limits;
        for (key, limit) in [
            (Key::UnitLrl, lrl),
            (Key::UnitUrl, url),
            (Key::UnitMinSpan, min_span),
            (Key::UnitMaxWorking, max_working),
            (Key::UnitTrimLimit, trim_limit),
        ] {
            if !text(key).is_empty() {
                text(key).clone_into(limit);
            }
        }
        row.offset_on_record.clear();
        row.offset_date.clear();
        row
    })
}

/// Reads the row as the visit found it: with the unit that is fitted. While that one's limits cannot be, the register's
/// stand in, and the Find step says what is wrong.
pub(super) fn known(draft: &Draft) -> Result<Known, Vec<Fault>> {
    let Some(row) = fitted(draft) else { return Known::read(&draft.instrument) };
    let with_old_limits =
        || Known::read(&Instrument { limits: draft.instrument.limits.clone(), ..row.clone() });
    Known::read(&row).or_else(|_| with_old_limits())
}

/// Returns what is asked where the serial on the plate is not the register's.
pub(super) fn asks(draft: &Draft) -> Vec<Ask> {
    if !serial_differs(draft) {
        return Vec::new();
    }
    let mut asked = vec![Ask::must(Spot::of(Key::UnitFitted), one_of(&[Choice::Yes, Choice::No]))];
    if fitted(draft).is_some() {
        let must = [Key::UnitLrl, Key::UnitUrl, Key::UnitMaxWorking];
        asked.extend(must.map(|key| Ask::must(Spot::of(key), Takes::Pressure)));
        let may = [Key::UnitMinSpan, Key::UnitTrimLimit];
        asked.extend(may.map(|key| Ask::may(Spot::of(key), Takes::Pressure)));
    }
    asked
}

/// Returns what is to be said of the unit that is fitted.
pub(super) fn remarks(draft: &Draft) -> Vec<Remark> {
    let Some(row) = fitted(draft) else { return Vec::new() };
    let mut said = vec![Remark::note(
        "unit.fitted",
        format!(
            "Another unit is fitted: {}, in place of {}. Its offset history starts anew, its limits are used today, and the \
             signed visit asks the register to change both. Accuracy, zero allowance and what is left empty are taken as \
             the register has them.",
            row.serial, draft.instrument.serial
        ),
    )];
    if let Err(faults) = Known::read(&row) {
        let of_limits = faults.iter().filter(|fault| fault.field.starts_with("limits."));
        let text: Vec<&str> = of_limits.map(|fault| fault.text.as_str()).collect();
        said.push(Remark::refusal(
            "unit.limits",
            format!("The limits of the unit that is fitted cannot be: {}", text.join(" ")),
            "Read them off the plate again. Where it cannot be read, answer that no other unit is fitted and say why the \
             serials differ.",
        ));
    }
    said
}
