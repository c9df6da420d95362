//! What the lines of the Shift screen make of each other.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use field::view::{Change, ReferenceLine};
use kit::answer;

use crate::desk::Desk;

/// Sedge Hill with three dips of one minute, each read once.
fn dipped(dips: [&str; 3]) -> Vec<ReferenceLine> {
    let desk = Desk::ready();
    let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
    let does = |change: &Change| desk.phone.visit_change(&id, change).unwrap();
    for (key, text) in [
        (Key::Display, "14.50"),
        (Key::OffsetKnown, "offset_unknown"),
        (Key::StandingHeadAt, "head_in_offset"),
        (Key::LineBled, "bled_not_possible"),
        (Key::VentLooked, "vent_clear"),
    ] {
        does(&answer(Spot::of(key), text));
    }
    for (piece, dip) in (1..).zip(dips) {
        does(&Change::Add { kind: PieceKind::Dip, timing: Timing::Before });
        does(&answer(Spot::piece(PieceId(piece), Key::Dip, 0), dip));
    }
    does(&Change::Go { step: Step::Shift }).now.shift.unwrap().references
}

#[test]
fn each_line_says_what_it_makes_of_each_other_by_name() {
    let lines = dipped(["14' 2\"", "14' 2\"", "15' 2\""]);
    assert_eq!(lines.iter().map(|line| line.what.as_str()).collect::<Vec<_>>(), ["dip 1", "dip 2", "dip 3"]);
    let said: Vec<Vec<&str>> = lines.iter().map(|line| line.says.split_inclusive(").").collect()).collect();
    let with = |line: usize, at: usize, start: &str| {
        assert!(said[line][at].trim().starts_with(start), "{said:?}, expected {start}");
    };
    // The third is a foot away from the two that agree, and what disagrees comes first.
    with(0, 0, "With dip 3: they disagree (En ");
    with(0, 1, "With dip 2: they agree within their uncertainty (En 0.00).");
    with(1, 0, "With dip 3: they disagree (En ");
    with(1, 1, "With dip 1: they agree within their uncertainty (En 0.00).");
    with(2, 0, "With dip ");
    with(2, 1, "With dip ");
    assert!(said.iter().all(|line| line.len() == 2), "{said:?}");
    assert!(said[2].iter().all(|sentence| sentence.contains("they disagree")), "{said:?}");
}
