//! A visit taken up again after a break.

use domain::visit::{Choice, Key, Spot, Step};
use field::view::{Change, VisitView};
use rstest::rstest;

use crate::desk::Desk;

const MINUTE: i64 = 60_000;

fn answer(spot: Spot, text: &str) -> Change {
    Change::Answer { key: spot.key, piece: spot.piece.0, row: spot.row, text: text.to_owned() }
}

/// A visit that was made safe and left at As found.
fn made_safe(desk: &Desk) -> VisitView {
    let story = kit::dip();
    desk.phone.find_code(&story.code).unwrap();
    let id = desk.phone.visit_begin(&story.tag, Choice::ByCode, &story.code).unwrap().id;
    for act in story.acts(Step::Find).iter().chain(story.acts(Step::MakeSafe)) {
        desk.phone.visit_change(&id, &act.change()).unwrap();
    }
    desk.phone.visit_change(&id, &Change::Go { step: Step::AsFound }).unwrap()
}

fn is_safe(view: &VisitView) -> bool {
    view.steps.iter().any(|state| state.step == Step::MakeSafe && state.complete)
}

fn says_again(view: &VisitView) -> bool {
    view.now.cautions.iter().any(|caution| caution.code == "safe.again")
}

#[rstest]
#[case::short(119, false)]
#[case::long(120, true)]
fn the_safety_list_is_asked_again_after_two_hours(#[case] minutes: i64, #[case] again: bool) {
    let desk = Desk::ready();
    let id = made_safe(&desk).id;
    desk.clock.move_by(minutes * MINUTE);
    let view = desk.phone.visit_open(&id).unwrap();
    assert_eq!(view.now.step, Step::AsFound, "it opens where it stopped");
    assert_eq!((is_safe(&view), says_again(&view)), (!again, again));
    // It is so whether the visit was opened again or lay open all the time.
    let view = desk.phone.visit_change(&id, &answer(Spot::of(Key::Display), "14.53")).unwrap();
    assert_eq!((is_safe(&view), says_again(&view)), (!again, again));
    let view = desk.phone.visit_open(&id).unwrap();
    assert_eq!((is_safe(&view), says_again(&view)), (!again, again));
}

#[test]
fn short_breaks_do_not_add_up() {
    let desk = Desk::ready();
    let id = made_safe(&desk).id;
    for digit in ["14.5", "14.52", "14.53"] {
        desk.clock.move_by(90 * MINUTE);
        desk.phone.visit_change(&id, &answer(Spot::of(Key::Display), digit)).unwrap();
    }
    assert!(is_safe(&desk.phone.visit_open(&id).unwrap()));
}

#[test]
fn how_it_was_made_safe_before_the_break_goes_into_the_record() {
    let desk = Desk::ready();
    let story = kit::dip();
    let id = made_safe(&desk).id;
    desk.clock.move_by(180 * MINUTE);
    for step in
        [Step::MakeSafe, Step::AsFound, Step::Evidence, Step::Shift, Step::AsLeft, Step::BackInService]
    {
        for act in story.acts(step) {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    let view = desk.phone.visit_open(&id).unwrap();
    assert!(is_safe(&view) && !says_again(&view));
    let record = desk.phone.visit_sign(&id).unwrap();
    let safe = record.parts.iter().find(|part| part.title == "Make safe").unwrap();
    let before: Vec<_> = safe.lines.iter().filter(|line| line.what.starts_with("Before a break: ")).collect();
    assert_eq!(before.len(), 8);
    assert!(before[0].what.contains("Gate code") && before[0].value == "done", "{before:?}");
}

#[test]
fn a_visit_that_is_back_in_service_is_signed_whenever() {
    let desk = Desk::ready();
    let story = kit::dip();
    let id = made_safe(&desk).id;
    for step in [Step::AsFound, Step::Evidence, Step::Shift, Step::AsLeft, Step::BackInService] {
        for act in story.acts(step) {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    desk.clock.move_by(5 * 60 * MINUTE);
    desk.phone.visit_sign(&id).unwrap();
}

#[test]
fn a_visit_is_not_signed_over_a_safety_list_that_is_open_again() {
    let desk = Desk::ready();
    let story = kit::dip();
    let id = made_safe(&desk).id;
    for step in [Step::AsFound, Step::Evidence, Step::Shift, Step::AsLeft] {
        for act in story.acts(step) {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    desk.clock.move_by(180 * MINUTE);
    for act in story.acts(Step::BackInService) {
        desk.phone.visit_change(&id, &act.change()).unwrap();
    }
    assert_eq!(desk.phone.visit_sign(&id).unwrap_err().code(), "sign.not_ready");
}
