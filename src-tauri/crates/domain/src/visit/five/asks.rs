//! What a check asks: whether there is a source, which, and row after row.

use super::rows::{MOST_ROWS, When, last_filled};
use crate::quantity::{ColumnBasis, LengthUnit, PressureUnit, ReadingUnit};
use crate::visit::asks::one_of;
use crate::visit::{Ask, Choice, Draft, Key, Opt, Spot, Takes};

/// Returns what is asked as found or as left.
pub(in crate::visit) fn asks(draft: &Draft, when: When) -> Vec<Ask> {
    match when {
        When::Found => found(draft),
        When::Left if at_hand(draft) && trimmed(draft) => rows(draft, when),
        When::Left => Vec::new(),
    }
}

/// Tells whether a source is at hand.
pub(super) fn at_hand(draft: &Draft) -> bool {
    draft.answers.choice(Spot::of(Key::PressureSource)) == Some(Choice::Yes)
}

/// A check as left is one after a trim that took; otherwise as left is as found.
pub(super) fn trimmed(draft: &Draft) -> bool {
    let chose = |key| draft.answers.choice(Spot::of(key));
    chose(Key::Decision) == Some(Choice::Trim) && chose(Key::TrimResult) == Some(Choice::TrimTook)
}

fn found(draft: &Draft) -> Vec<Ask> {
    let mut asked = vec![Ask::may(Spot::of(Key::PressureSource), one_of(&[Choice::Yes, Choice::No]))];
    if at_hand(draft) {
        let applied = one_of(&[Choice::AppliedPressure, Choice::SimulatedLevel]);
        asked.push(Ask::must(Spot::of(Key::SourceName), Takes::Text(Vec::new())));
        asked.push(Ask::must(Spot::of(Key::SourceUncertainty), Takes::Uncertainty));
        asked.push(Ask::must(Spot::of(Key::AppliedAs), applied));
        if !simulated(draft) {
            asked.push(Ask::may(Spot::of(Key::SourceUnit), Takes::Choice(units(draft))));
        }
        asked.push(Ask::may(Spot::of(Key::MeterUncertainty), Takes::Number("mA")));
        asked.extend(rows(draft, When::Found));
    }
    asked
}

/// Tells whether what is applied is the level that should be shown.
pub(super) fn simulated(draft: &Draft) -> bool {
    draft.answers.choice(Spot::of(Key::AppliedAs)) == Some(Choice::SimulatedLevel)
}

/// What sources read in, the display's own unit first.
fn units(draft: &Draft) -> Vec<Opt> {
    let mut units: Vec<ReadingUnit> = ReadingUnit::parse(&draft.instrument.unit).into_iter().collect();
    let pressures = [PressureUnit::Psi, PressureUnit::Kilopascal, PressureUnit::Millibar];
    units.extend(pressures.map(ReadingUnit::Pressure));
    units.push(ReadingUnit::Water(LengthUnit::Inch, ColumnBasis::Conventional));
    let mut offered: Vec<Opt> = Vec::new();
    for symbol in units.into_iter().map(ReadingUnit::symbol) {
        if !offered.iter().any(|opt| opt.value == symbol) {
            offered.push(Opt::data(&symbol, symbol.clone()));
        }
    }
    offered
}

/// Returns the unit that applied values are written in: the source's, and the display's where none is chosen or a
/// level is simulated.
pub(super) fn applied_unit(draft: &Draft) -> Option<ReadingUnit> {
    let chosen = draft.answers.text(Spot::of(Key::SourceUnit));
    let own = draft.instrument.unit.as_str();
    let text = if simulated(draft) || chosen.is_empty() { own } else { chosen };
    ReadingUnit::parse(text).ok()
}

/// One empty row always follows the last one filled.
fn rows(draft: &Draft, when: When) -> Vec<Ask> {
    let keys = when.keys();
    let rows = last_filled(draft, when).map_or(0, |last| last + 1);
    let applied = applied_unit(draft).map_or(Takes::Reading, Takes::Applied);
    let row = |row| {
        [
            Ask::may(Spot::row(keys.applied, row), applied.clone()),
            Ask::may(Spot::row(keys.display, row), Takes::Reading),
            Ask::may(Spot::row(keys.current, row), Takes::Current),
        ]
    };
    (0..(rows + 1).min(MOST_ROWS)).flat_map(row).collect()
}
