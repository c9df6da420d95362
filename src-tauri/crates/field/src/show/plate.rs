//! The register beside the nameplate, line by line, while the instrument is confirmed.

use domain::visit::{Choice, Draft, Key, Spot, Step, fitted};

use crate::view::PlateLine;

/// Returns what the register says and what was read off the plate so far; nothing on other steps than Find.
pub(super) fn plate(draft: &Draft) -> Vec<PlateLine> {
    if draft.step != Step::Find {
        return Vec::new();
    }
    let row = &draft.instrument;
    let range = format!("{} to {} {}", row.lrv, row.urv, row.unit);
    let limits = |of: &domain::visit::Limits| format!("{} to {}", of.lrl, of.url);
    let on_plate = fitted(draft).map_or_else(String::new, |unit| limits(&unit.limits));
    let line = |what: &str, register: &str, plate: String| PlateLine {
        what: what.into(),
        register: register.into(),
        plate,
    };
    vec![
        line("Tag", &row.tag, agrees(draft, Key::TagMatches)),
        line("Service", &row.service, String::new()),
        line("Serial number", &row.serial, draft.answers.text(Spot::of(Key::SerialRead)).trim().to_owned()),
        line("Range (LRV to URV)", &range, agrees(draft, Key::RangeMatches)),
        line("Sensor limits (LRL to URL)", &limits(&row.limits), on_plate),
    ]
}

fn agrees(draft: &Draft, key: Key) -> String {
    match draft.answers.choice(Spot::of(key)) {
        Some(Choice::Yes) => "agrees",
        Some(Choice::No) => "another",
        Some(Choice::NotLegible) => "not legible",
        _ => "",
    }
    .to_owned()
}
