use rstest::rstest;
use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

use crate::history::{Act, Months, NotJudged, Staircase};

#[rstest]
#[case::at_the_edge(0.8, Act::Extend, 15.0)]
#[case::just_beyond(0.81, Act::Keep, 12.0)]
#[case::at_the_limit(-1.0, Act::Keep, 12.0)]
#[case::beyond(-1.01, Act::Reduce, 9.0)]
fn up_and_down_the_stairs(#[case] of_limit: f64, #[case] act: Act, #[case] months: f64) {
    let next = Staircase::default().next(Months(12.0), Ratio::new::<ratio>(of_limit)).unwrap();
    assert_eq!(next.act, act);
    assert!((next.next.0 - months).abs() < 1e-9);
}

#[rstest]
#[case::longest(54.0, 0.1, 60.0)]
#[case::longer_already(72.0, 0.1, 72.0)]
#[case::shortest(1.2, 3.0, 1.0)]
#[case::shorter_already(0.5, 3.0, 0.5)]
fn bounds_hold_and_never_turn_a_step_round(#[case] interval: f64, #[case] part: f64, #[case] months: f64) {
    let next = Staircase::default().next(Months(interval), Ratio::new::<ratio>(part)).unwrap();
    assert!((next.next.0 - months).abs() < 1e-9);
}

#[test]
fn what_is_missing_is_said() {
    let stairs = Staircase::default();
    let next = |months, part| stairs.next(Months(months), Ratio::new::<ratio>(part));
    assert_eq!(next(12.0, f64::NAN), Err(NotJudged::NoError));
    for months in [0.0, -6.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(next(months, 0.1), Err(NotJudged::NotPositive { .. })));
    }
}

/// A month is a twelfth of 365.25 days: 91.3125 days are three. Six months are 182.625 days, so 183.
#[test]
fn months_and_days_go_into_each_other() {
    assert!((Months::of_days(91.3125).0 - 3.0).abs() < 1e-12);
    assert!((Months(6.0).days() - 183.0).abs() < 1e-12);
}

#[test]
fn the_next_interval_tells_the_size_of_the_error_and_what_it_does() {
    let next = Staircase::default().next(Months(12.0), Ratio::new::<ratio>(-0.9)).unwrap();
    assert!((next.ratio.get::<ratio>() - 0.9).abs() < 1e-12);
    let words = [Act::Extend, Act::Keep, Act::Reduce, Act::Begin].map(Act::word);
    assert_eq!(words, ["extend", "keep", "reduce", "begin"]);
}
