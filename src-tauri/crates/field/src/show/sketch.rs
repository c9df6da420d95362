//! The installation as it is drawn for this visit.

use domain::head::mounting::Mounting;
use domain::sketch::{Drawing, Installation, Mark, Role};
use domain::visit::{Assessment, Key, Known, Show, Spot};
use uom::si::f64::Length;

/// Returns the drawing: datum lines from the register, the level by the evidence, and where the display puts it.
pub(super) fn sketch(assessment: &Assessment, left: bool) -> Drawing {
    let known = &assessment.known;
    let show = Show::new(known, assessment.conditions.gradient);
    let mut marks = datums(known, &show);
    let level = assessment.shift.level;
    marks.extend(level.map(|at| Mark {
        at,
        says: format!("{} {}", surface(known), show.length(at)),
        role: Role::Surface,
    }));
    marks.extend(shown(assessment, left).map(|at| Mark {
        at,
        says: format!("display {}", show.length(at)),
        role: Role::Shown,
    }));
    let (mounting, floor, span) = (mounting(assessment), known.floor, known.span);
    Installation { mounting, span, floor, level, marks }.draw(&|length| show.length(length))
}

/// Returns the drawing of an instrument nobody is at: datum lines from the register alone.
pub(super) fn planned(known: &Known, show: &Show<'_>) -> Drawing {
    let (mounting, floor, span) = (known.mounted.mounting, known.floor, known.span);
    let marks = datums(known, show);
    Installation { mounting, span, floor, level: None, marks }.draw(&|length| show.length(length))
}

fn datums(known: &Known, show: &Show<'_>) -> Vec<Mark> {
    let mut marks = vec![datum(show, "100 %", known.span)];
    marks.extend(known.hatch.map(|hatch| datum(show, "hatch", hatch)));
    marks.extend(known.overflow.map(|crest| datum(show, "overflow", crest)));
    marks.push(Mark { at: Length::default(), says: "0 % tank zero".into(), role: Role::Datum });
    if known.sill != Length::default() {
        marks.push(datum(show, "sill", known.sill));
    }
    marks
}

fn datum(show: &Show<'_>, name: &str, at: Length) -> Mark {
    Mark { at, says: format!("{name} {}", show.length(at)), role: Role::Datum }
}

/// What the measured surface is called.
fn surface(known: &Known) -> &'static str {
    if known.mounted.mounting.light().is_some() { "interface" } else { "level" }
}

/// The mounting as measured today, else as the register has it.
fn mounting(assessment: &Assessment) -> Mounting {
    let measured = assessment.entries.iter().find_map(|(spot, entry)| match entry.value {
        Some(domain::visit::Value::Length(height)) if spot.key == Key::RiserHeight => Some(height),
        _ => None,
    });
    let known = &assessment.known;
    measured.map_or(known.mounted.mounting, |height| known.measured(height))
}

/// The level the display shows, before or after the trim.
fn shown(assessment: &Assessment, left: bool) -> Option<Length> {
    let key = if left { Key::DisplayLeft } else { Key::Display };
    let Some(domain::visit::Value::Reading { pressure, .. }) = assessment.entries.at(Spot::of(key))?.value
    else {
        return None;
    };
    Some(assessment.known.level_of(pressure, assessment.conditions.gradient))
}
