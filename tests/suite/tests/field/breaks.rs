//! A visit taken up again after a break.

use domain::visit::{Choice, Key, Spot, Step};
use field::view::{Change, VisitView};
use kit::answer;
use rstest::rstest;

use crate::desk::Desk;

const MINUTE: i64 = 60_000;

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

fn shown(view: &VisitView, key: Key) -> Option<&str> {
    view.now.fields.iter().find(|field| field.key == key).map(|field| field.text.as_str())
}

/// Alarms were inhibited for 90 minutes; the break took three hours.
#[test]
fn who_was_told_and_how_long_alarms_are_inhibited_is_asked_again() {
    let desk = Desk::ready();
    let id = made_safe(&desk).id;
    desk.phone.visit_change(&id, &answer(Spot::of(Key::Crew), "two_or_more")).unwrap();
    desk.clock.move_by(180 * MINUTE);
    let view = desk.phone.visit_open(&id).unwrap();
    // What was stated still tells that it ran out: 11:42:07 local time and 90 minutes.
    let reminder = view.reminder.as_ref().unwrap();
    assert!(reminder.text.contains("ran out at 13:12"), "{}", reminder.text);
    assert_eq!(reminder.minutes_left, -90);
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::MakeSafe }).unwrap();
    assert_eq!((shown(&view, Key::ControlRoomTold), shown(&view, Key::InhibitMinutes)), (Some(""), Some("")));
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    let crew = view.now.fields.iter().find(|field| field.key == Key::Crew).unwrap();
    assert!(crew.options.iter().all(|option| !option.chosen), "one may have left");
    let view = desk.phone.visit_change(&id, &answer(Spot::of(Key::InhibitMinutes), "60")).unwrap();
    assert_eq!(view.reminder.unwrap().text, "Alarms inhibited until 15:42");
}

#[test]
fn what_was_said_before_each_break_goes_into_the_record() {
    let desk = Desk::ready();
    let story = kit::dip();
    let id = made_safe(&desk).id;
    desk.clock.move_by(180 * MINUTE);
    for (key, text) in [(Key::ControlRoomTold, "Night desk, Marrowby"), (Key::InhibitMinutes, "45")] {
        desk.phone.visit_change(&id, &answer(Spot::of(key), text)).unwrap();
    }
    desk.clock.move_by(150 * MINUTE);
    for step in
        [Step::MakeSafe, Step::AsFound, Step::Evidence, Step::Shift, Step::AsLeft, Step::BackInService]
    {
        for act in story.acts(step) {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    let record = desk.phone.visit_sign(&id).unwrap();
    let safe = record.parts.iter().find(|part| part.title == "Make safe").unwrap();
    let values = |what: &str| {
        let lines = safe.lines.iter().filter(|line| line.what == what);
        lines.map(|line| line.value.clone()).collect::<Vec<_>>()
    };
    assert_eq!(values("Told in the control room"), ["Duty desk, Marrowby"]);
    let before = values("Told in the control room, before a break");
    assert_eq!(before, ["Duty desk, Marrowby", "Night desk, Marrowby"]);
    assert_eq!(values("Minutes of inhibition, before a break"), ["90", "45"]);
}

#[test]
fn a_break_that_was_forgotten_is_not_signed_over() {
    let desk = Desk::ready();
    let story = kit::dip();
    let id = made_safe(&desk).id;
    desk.clock.move_by(180 * MINUTE);
    for step in [Step::AsFound, Step::Evidence, Step::Shift, Step::AsLeft, Step::BackInService] {
        for act in story.acts(step) {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    for act in story.acts(Step::MakeSafe) {
        let change = act.change();
        if !matches!(&change, Change::Answer { key: Key::ControlRoomTold, .. }) {
            desk.phone.visit_change(&id, &change).unwrap();
        }
    }
    assert_eq!(desk.phone.visit_sign(&id).unwrap_err().code(), "sign.not_ready");
    desk.phone.visit_change(&id, &answer(Spot::of(Key::ControlRoomTold), "Duty desk, Marrowby")).unwrap();
    desk.phone.visit_sign(&id).unwrap();
}
