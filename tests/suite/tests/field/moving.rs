//! A level that moves: the target is asked anew and moves with it.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use field::view::{Change, VisitView};
use kit::answer;

use crate::desk::Desk;

const MINUTE: i64 = 60_000;

fn puts(desk: &Desk, id: &str, spot: Spot, text: &str) -> VisitView {
    desk.phone.visit_change(id, &answer(spot, text)).unwrap()
}

/// Sedge Hill while it fills: the display stands at 14.50 ft before the dip, the tape says 14 ft 2 in, and two minutes after the
/// first reading the display stands at 14.56 ft: 0.03 ft a minute.
fn filling(desk: &Desk) -> VisitView {
    let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
    for (key, text) in [
        (Key::Display, "14.50"),
        (Key::OffsetKnown, "offset_unknown"),
        (Key::StandingHeadAt, "head_in_offset"),
        (Key::LineBled, "bled_not_possible"),
        (Key::VentLooked, "vent_clear"),
    ] {
        puts(desk, &id, Spot::of(key), text);
    }
    desk.phone.visit_change(&id, &Change::Add { kind: PieceKind::Dip, timing: Timing::Before }).unwrap();
    let dip = |key| Spot::piece(PieceId(1), key, 0);
    puts(desk, &id, dip(Key::ReadingBefore), "14.50");
    desk.clock.move_by(MINUTE);
    puts(desk, &id, dip(Key::Dip), "14' 2\"");
    desk.clock.move_by(MINUTE);
    puts(desk, &id, dip(Key::ReadingAfter), "14.56");
    desk.phone.visit_change(&id, &Change::Go { step: Step::Shift }).unwrap()
}

/// The number in front of a unit.
fn number(text: &str) -> f64 {
    text.split_whitespace().next().unwrap().parse().unwrap()
}

fn half(sure: &str) -> f64 {
    number(sure.trim_start_matches('±').trim())
}

#[test]
fn the_target_moves_with_the_level_and_gets_less_sure() {
    let desk = Desk::ready();
    let view = filling(&desk);
    let shift = view.now.shift.as_ref().unwrap();
    assert!(
        shift.moving && !shift.headline.contains(&shift.to),
        "what it was to show then: {}",
        shift.headline
    );
    let first = desk.phone.target(&view.id).unwrap().expect("the level moves");
    // At the last reading the display stood at 14.56.
    assert_eq!((first.from.as_str(), first.a_minute.as_str()), ("14.56 ft", "+0.03 ft"));
    desk.clock.move_by(10 * MINUTE);
    let later = desk.phone.target(&view.id).unwrap().unwrap();
    // Ten minutes at 0.03 ft each: both move by 0.30 ft, and what the trim adds stays.
    assert_eq!(later.from, "14.86 ft");
    assert!((number(&later.to) - number(&first.to) - 0.30).abs() < 0.011, "{} then {}", first.to, later.to);
    assert_eq!(later.by, first.by);
    // A quarter of the 0.30 ft, as a rectangle: 0.0433 ft. The digits of both readings, 0.01 ft / 6^0.5 in two minutes, make
    // 0.0204 ft in ten. Both 1.96 times and in squares with what the shift is sure to.
    let expected = half(&first.sure).hypot(1.96 * 0.0433_f64.hypot(0.0204));
    assert!((half(&later.sure) - expected).abs() < 0.003, "{} then {}", first.sure, later.sure);
    assert!(later.at > first.at, "{} then {}", first.at, later.at);
    assert_eq!(later.read_again, None);
}

#[test]
fn after_ten_minutes_the_target_says_to_read_again() {
    let desk = Desk::ready();
    let view = filling(&desk);
    desk.clock.move_by(10 * MINUTE);
    let last = desk.phone.target(&view.id).unwrap().unwrap();
    desk.clock.move_by(20 * MINUTE);
    let old = desk.phone.target(&view.id).unwrap().unwrap();
    assert_eq!((&old.from, &old.to), (&last.from, &last.to), "it is followed no further");
    assert!(half(&old.sure) > 3.0 * half(&last.sure), "{} then {}", last.sure, old.sure);
    let said = old.read_again.expect("it is too old");
    assert_eq!(said.code, "target.read_again");
    assert!(said.text.contains("10 minutes") && said.remedy.starts_with("Read again"), "{said:?}");
    // It warns and forbids nothing.
    assert!(desk.phone.visit_open(&view.id).unwrap().now.shift.unwrap().warnings.is_empty());
}

#[test]
fn a_flicker_of_the_last_digit_moves_no_target() {
    let desk = Desk::ready();
    let id = filling(&desk).id;
    let after = Spot::piece(PieceId(1), Key::ReadingAfter, 0);
    for shown in ["14.51", "14.49", "14.52"] {
        let view = puts(&desk, &id, after, shown);
        assert!(!view.now.shift.as_ref().unwrap().moving, "{shown}");
        assert_eq!(desk.phone.target(&id).unwrap(), None, "{shown}");
    }
    let view = puts(&desk, &id, after, "14.53");
    assert!(view.now.shift.as_ref().unwrap().moving);
}

#[test]
fn asking_for_the_target_keeps_nothing_and_changes_nothing() {
    let desk = Desk::ready();
    let view = filling(&desk);
    let before = desk.phone.visit_open(&view.id).unwrap();
    desk.clock.move_by(MINUTE);
    desk.phone.target(&view.id).unwrap().unwrap();
    let after = desk.phone.visit_open(&view.id).unwrap();
    assert_eq!((after.saved, after.now.step), (before.saved, before.now.step));
}

#[test]
fn once_the_trim_is_read_there_is_no_target_any_more() {
    let desk = Desk::ready();
    let id = filling(&desk).id;
    puts(&desk, &id, Spot::of(Key::Decision), "trim");
    desk.phone.visit_change(&id, &Change::Go { step: Step::AsLeft }).unwrap();
    puts(&desk, &id, Spot::of(Key::TrimResult), "trim_took");
    assert!(desk.phone.target(&id).unwrap().is_some());
    puts(&desk, &id, Spot::of(Key::DisplayLeft), "14.20");
    assert_eq!(desk.phone.target(&id).unwrap(), None);
}

#[test]
fn a_level_that_stands_has_no_moving_target() {
    let desk = Desk::ready();
    let id = filling(&desk).id;
    let after = Spot::piece(PieceId(1), Key::ReadingAfter, 0);
    let view = puts(&desk, &id, after, "14.50");
    let shift = view.now.shift.as_ref().unwrap();
    assert!(!shift.moving && shift.headline.contains(&shift.to), "{}", shift.headline);
    assert_eq!(desk.phone.target(&id).unwrap(), None);
    let error = desk.phone.target("no such visit").unwrap_err();
    assert_eq!(error.code(), "store.no_draft");
}
