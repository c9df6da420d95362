//! A level that moves on while the unit is trimmed, and one that only seems to.

use domain::visit::{Choice, Key, Moment, PieceKind, Spot, Step};
use rstest::rstest;

use crate::evidence::{metres, near, shift, tower};
use crate::person::Person;

const MINUTE: i64 = 60_000;

/// Read at 12.00, dipped three times, read again: 80 s from one reading to the other.
fn bracketed(dip: &str, after: &str) -> Person {
    let mut person = Person::untrimmed(tower(""), "12.00");
    dip_between(&mut person, "12.00", dip, after);
    person
}

fn dip_between(person: &mut Person, before: &str, dip: &str, after: &str) {
    let dips = [(Key::ReadingBefore, 0, before), (Key::Dip, 0, dip), (Key::Dip, 1, dip), (Key::Dip, 2, dip)];
    let id = person.tells(PieceKind::Dip, &dips);
    person.put(Spot::piece(id, Key::ReadingAfter, 0), after);
}

/// Trims, and reads the display as left after so many minutes since the last answer.
fn trimmed(person: &mut Person, minutes: i64, shown: &str) {
    person.put(Spot::of(Key::Decision), Choice::Trim.word());
    person.put(Spot::of(Key::TrimResult), Choice::TrimTook.word());
    let read = person.assessed().shift.read_at.unwrap();
    let at = Moment(read.0 + minutes * MINUTE);
    person.draft.answers.put(Spot::of(Key::DisplayLeft), shown.to_owned(), at);
}

#[rstest]
#[case::unchanged("12.00")]
#[case::a_flicker("12.01")]
#[case::a_flicker_down("11.99")]
#[case::a_step_of_each_reading("12.02")]
fn a_last_digit_that_flickers_is_no_rate(#[case] after: &str) {
    let mut person = bracketed("3.000 m", after);
    let seen = person.assessed();
    let read = seen.shift.read_at.unwrap();
    assert_eq!(seen.shift.rate, None);
    assert_eq!(seen.target(&person.draft, Moment(read.0 + 20 * MINUTE)), None);
    // Twenty minutes later the display is trimmed to what it was to show, and that is what it is judged by.
    let to = metres(&seen, seen.shift.result.as_deref().unwrap().to);
    trimmed(&mut person, 20, &format!("{to:.3}"));
    let left = person.assessed();
    near(left.left.left.unwrap().value.get::<uom::si::length::meter>(), 0.0, 0.0006);
    assert!(left.remarks(Step::AsLeft).iter().all(|remark| !remark.code.starts_with("target.")), "{left:?}");
}

#[test]
fn scatter_of_the_display_is_no_rate() {
    // 12.00, 12.03, 11.97, 12.00: s = 24.5 mm, and three times that of a difference are 104 mm.
    let with = |after: &str| {
        let mut person = Person::untrimmed(tower(""), "12.00");
        for (row, text) in (0..).zip(["12.03", "11.97", "12.00"]) {
            person.put(Spot::row(Key::DisplayRepeat, row), text);
        }
        dip_between(&mut person, "12.00", "3.000 m", after);
        person.assessed().shift.rate
    };
    assert_eq!(with("12.10"), None);
    assert!(with("12.11").is_some());
}

#[test]
fn a_level_that_stands_again_moves_no_more() {
    let mut person = bracketed("3.015 m", "12.03");
    assert!(person.assessed().shift.rate.is_some());
    dip_between(&mut person, "12.03", "3.030 m", "12.03");
    assert_eq!(person.assessed().shift.rate, None);
}

#[test]
fn the_target_moves_on_with_the_level_and_gets_less_sure() {
    // 30 mm up while it was measured.
    let mut person = bracketed("3.015 m", "12.03");
    let seen = person.assessed();
    let read = seen.shift.read_at.unwrap();
    let later = |seconds: i64| seen.target(&person.draft, Moment(read.0 + seconds * 1000)).expect("it moves");
    let result = seen.shift.result.as_deref().unwrap();
    // 30 mm in 80 s are 22.5 mm a minute; after 160 s it stands 60 mm higher.
    near(metres(&seen, later(0).to), metres(&seen, result.to), 1e-9);
    near(metres(&seen, later(0).a_minute), 0.0225, 1e-9);
    near(metres(&seen, later(160).to - result.to), 0.060, 1e-9);
    near(metres(&seen, later(160).to - later(160).from), shift(&seen), 1e-9);
    // A quarter of 60 mm as a rectangle, 15 mm / 3^0.5; and twice 4.08 mm for the digits of the two readings in half the time.
    let moved = (0.015 / 3.0_f64.sqrt()).hypot(2.0 * 0.010 / 6.0_f64.sqrt());
    let expected = metres(&seen, result.shift.expanded).hypot(moved * 1.96);
    near(metres(&seen, later(160).expanded), expected, 1e-6);
    person.put(Spot::of(Key::DisplayLeft), "3.03");
    assert!(person.assessed().target(&person.draft, read).is_none(), "it was trimmed already");
}

#[test]
fn after_ten_minutes_the_target_stands_and_says_to_read_again() {
    let person = bracketed("3.015 m", "12.03");
    let seen = person.assessed();
    let read = seen.shift.read_at.unwrap();
    let later =
        |minutes: i64| seen.target(&person.draft, Moment(read.0 + minutes * MINUTE)).expect("it moves");
    let result = seen.shift.result.as_deref().unwrap();
    assert_eq!(later(10).read_again, None);
    near(metres(&seen, later(10).to - result.to), 0.225, 1e-9);
    let old = later(20);
    assert_eq!(old.read_again.as_ref().map(|remark| remark.code.as_str()), Some("target.read_again"));
    near(metres(&seen, old.to - later(10).to), 0.0, 1e-9);
    // A quarter of 225 mm and the 225 mm it may have gone on, as a rectangle; 4.08 mm in 80 s for 1200 s.
    let moved = (0.28125 / 3.0_f64.sqrt()).hypot(0.010 / 6.0_f64.sqrt() * 15.0);
    near(metres(&seen, old.expanded), metres(&seen, result.shift.expanded).hypot(moved * 1.96), 1e-6);
}

#[rstest]
#[case::soon(4, 0.090, 0.0225, false)]
#[case::late(20, 0.225, 0.28125, true)]
fn what_is_left_is_as_sure_as_the_target_was(
    #[case] minutes: i64,
    #[case] moved: f64,
    #[case] half: f64,
    #[case] again: bool,
) {
    let mut person = bracketed("3.015 m", "12.03");
    let before = person.assessed();
    let result = before.shift.result.as_deref().unwrap();
    // Where the level is taken to be by then, and 10 mm beside it.
    let shown = metres(&before, result.to) + moved + 0.010;
    trimmed(&mut person, minutes, &format!("{shown:.4}"));
    let seen = person.assessed();
    let left = seen.left.left.expect("it was read as left");
    near(left.value.get::<uom::si::length::meter>(), 0.010, 1e-4);
    #[allow(clippy::cast_precision_loss)] // Minutes of a visit.
    let rate = 0.010 / 6.0_f64.sqrt() * minutes as f64 * 60.0 / 80.0;
    let expected = result.error.standard.value.hypot((half / 3.0_f64.sqrt()).hypot(rate));
    near(left.standard.value, expected, 1e-6);
    let says = |code: &str| seen.remarks(Step::AsLeft).iter().any(|remark| remark.code == code);
    assert!(says("target.moved"));
    assert_eq!(says("target.read_again"), again);
}
