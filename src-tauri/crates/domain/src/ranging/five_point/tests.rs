//! Checks worked out by hand beside them, and properties.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::electric_current::milliampere;
use uom::si::f64::{ElectricCurrent, Pressure, Ratio};
use uom::si::pressure::kilopascal;
use uom::si::ratio::percent;

use super::{Findings, FivePointError, Point, Quality, Run, findings, judge};
use crate::evidence::Conformity;
use crate::ranging::{Action, Range, RangingError};

fn part(percents: f64) -> Ratio {
    Ratio::new::<percent>(percents)
}

fn near(seen: Option<Ratio>, expected: f64) -> bool {
    seen.is_some_and(|seen| (seen.get::<percent>() - expected).abs() < 1e-9)
}

/// A check from what was applied and shown, in percent, in the order taken.
fn check(taken: &[(f64, f64)]) -> Findings {
    let applied: Vec<Ratio> = taken.iter().map(|(applied, _)| part(*applied)).collect();
    let points = Run::of_each(&applied)
        .into_iter()
        .zip(taken)
        .map(|(run, (applied, shown))| Point::new(run, part(*applied), part(*shown)).unwrap());
    findings(&points.collect::<Vec<_>>()).unwrap()
}

/// Up 0, 50, 100, down 50, 0. Errors: +0.1, +0.2, +0.3; +0.5, +0.1. Means: 0.1, 0.35, 0.3. Zero 0.1; span
/// 0.3 - 0.1 = 0.2; the line through the ends is 0.2 in the middle, so 0.15 from ends and half of it from the best.
#[test]
fn a_check_up_and_down_is_worked_out() {
    let found = check(&[(0.0, 0.1), (50.0, 50.2), (100.0, 100.3), (50.0, 50.5), (0.0, 0.1)]);
    assert!(near(found.zero, 0.1) && near(found.span, 0.2), "{found:?}");
    assert!(near(found.terminal, 0.15) && near(found.independent, 0.075), "{found:?}");
    let hysteresis = found.hysteresis.unwrap();
    assert!(near(Some(hysteresis.size), 0.3) && near(Some(hysteresis.at), 50.0), "{hysteresis:?}");
    assert!(near(Some(found.worst.error()), 0.5) && found.worst.run() == Run::Down);
}

/// Errors of 0.2, 0.3, 0, 0.3 and 0.2, all tilted by 0.8 over the span: the middle lies 0.2 below the line through the ends and 0.3
/// below that through its neighbours, so no line lies nearer than 0.15 to all.
#[test]
fn the_best_line_is_held_by_the_three_that_bend_most() {
    let found = check(&[(0.0, 0.2), (25.0, 25.5), (50.0, 50.4), (75.0, 75.9), (100.0, 101.0)]);
    assert!(near(found.terminal, 0.2) && near(found.independent, 0.15), "{found:?}");
}

#[test]
fn an_input_that_stays_goes_on_as_before() {
    let applied = [0.0, 50.0, 100.0, 50.0, 50.0, 75.0, 75.0].map(part);
    assert_eq!(Run::of_each(&applied), [Run::Up, Run::Up, Run::Up, Run::Down, Run::Down, Run::Up, Run::Up]);
}

/// Of errors as large as each other the first taken is the worst, and of places as far apart the lowest is named. Halves and
/// quarters, so that they are the same to the last digit.
#[test]
fn the_first_of_equals_is_named() {
    let found = check(&[(25.0, 25.0), (50.0, 50.0), (100.0, 100.0), (50.0, 51.5625), (25.0, 23.4375)]);
    assert!(near(Some(found.worst.error()), 1.5625), "{found:?}");
    assert!(near(found.hysteresis.map(|hysteresis| hysteresis.at), 25.0), "{found:?}");
}

#[rstest]
#[case::digit_below_nothing(None, -0.1, "What was shown")]
#[case::digit_nan(None, f64::NAN, "What was shown")]
#[case::meter_nan(Some(f64::NAN), 0.0, "The uncertainty of the meter")]
#[case::meter_nothing(Some(0.0), 0.0, "The uncertainty of the meter")]
fn a_meter_and_a_digit_must_be_usable_too(
    #[case] meter: Option<f64>,
    #[case] digit: f64,
    #[case] what: &str,
) {
    let quality = Quality { meter: meter.map(part), digit: part(digit), ..quality(0.5, 0.1) };
    let error = judge(&check(&[(0.0, 0.0)]), &quality).unwrap_err().to_string();
    assert!(error.starts_with(what), "{error}");
}

#[rstest]
#[case::up_only(&[(0.0, 0.1), (50.0, 50.0), (100.0, 100.0)], [true, true, false, true])]
#[case::no_zero(&[(25.0, 25.0), (50.0, 50.0), (100.0, 100.0)], [false, false, false, false])]
#[case::one_point(&[(50.0, 50.1)], [false, false, false, false])]
#[case::two_ends(&[(0.0, 0.0), (100.0, 100.0)], [true, true, false, false])]
#[case::up_and_down_at_one(&[(50.0, 50.0), (75.0, 75.0), (50.0, 50.0)], [false, false, true, false])]
fn what_is_not_determined_is_left_out(#[case] taken: &[(f64, f64)], #[case] there: [bool; 4]) {
    let found = check(taken);
    let seen =
        [found.zero.is_some(), found.span.is_some(), found.hysteresis.is_some(), found.terminal.is_some()];
    assert_eq!(seen, there);
}

#[rstest]
// A place is five percent wide either side, and these are its last ones: what rounding adds to them does not count.
#[case::above_nothing(5.0, true)]
#[case::above_a_quarter(30.0, true)]
#[case::above_the_half(55.0, true)]
#[case::above_three_quarters(80.0, true)]
#[case::below_the_half(45.0, true)]
#[case::below_the_end(95.0, true)]
#[case::beyond_the_half(55.01, false)]
#[case::short_of_the_end(94.99, false)]
fn a_point_belongs_to_a_place_within_five_percent_of_it(#[case] applied: f64, #[case] belongs: bool) {
    // Up 0.1 % too much and down 0.4: what was taken at a place both ways tells the hysteresis.
    let found = check(&[(applied, applied + 0.1), (105.0, 105.1), (applied, applied + 0.4)]);
    let size = found.hysteresis.map(|hysteresis| hysteresis.size);
    assert_eq!(near(size, 0.3), belongs, "{found:?}");
}

/// Set to 24.2 % going up and 25.6 % coming down, shown 24.3 and 25.9: errors 0.1 and 0.3, so 0.2 apart.
#[test]
fn an_error_counts_from_what_was_really_applied() {
    let found = check(&[(24.2, 24.3), (50.0, 50.0), (25.6, 25.9)]);
    assert!(near(found.hysteresis.map(|hysteresis| hysteresis.size), 0.2), "{found:?}");
    // 37 % lies with none of the five: a point like any other, but no zero, hysteresis or line is told by it.
    let found = check(&[(0.0, 0.0), (37.0, 37.4), (100.0, 100.0)]);
    assert!(near(Some(found.worst.error()), 0.4) && found.terminal.is_none(), "{found:?}");
}

/// Repeats at 50 %: up errors 0.1 and 0.3, down 0.6. Means 0.2 and 0.6, 0.4 apart; 0.4 over both ways.
#[test]
fn repeats_are_averaged_each_way() {
    let taken = [(50.0, 50.1), (50.0, 50.3), (100.0, 100.0), (50.0, 50.6)];
    let found = check(&taken);
    assert!(near(found.hysteresis.map(|hysteresis| hysteresis.size), 0.4), "{found:?}");
}

fn range(action: Action) -> Range {
    let (lrv, urv) = (Pressure::new::<kilopascal>(0.0), Pressure::new::<kilopascal>(80.0));
    Range::new(lrv, urv, action).unwrap()
}

/// 20 kPa of 80 is a quarter: 8 mA direct, 16 mA reverse. 0.016 mA more is 0.1 % of span more, or less.
#[rstest]
#[case::direct(Action::Direct, 8.016, 0.1)]
#[case::reverse(Action::Reverse, 16.016, -0.1)]
fn a_current_carries_a_value_either_way(#[case] action: Action, #[case] current: f64, #[case] error: f64) {
    let (due, current) = (Pressure::new::<kilopascal>(20.0), ElectricCurrent::new::<milliampere>(current));
    let point = Point::by_current(&range(action), Run::Up, due, current).unwrap();
    assert!(near(Some(point.error()), error) && near(Some(point.applied()), 25.0), "{point:?}");
    let shown = Pressure::new::<kilopascal>(20.08);
    let point = Point::by_display(&range(action), Run::Up, due, shown).unwrap();
    assert!(near(Some(point.error()), 0.1), "{point:?}");
}

#[rstest]
#[case::nan(f64::NAN, 50.0, "What was applied is not")]
#[case::endless(f64::INFINITY, 50.0, "What was applied is not")]
#[case::shown_nan(50.0, f64::NAN, "What was shown is not")]
#[case::above(180.0, 180.0, "180 % of the range is outside")]
#[case::below(-25.0, -25.0, "-25 % of the range is outside")]
fn bad_points_say_what_is_wrong(#[case] applied: f64, #[case] shown: f64, #[case] says: &str) {
    let error = Point::new(Run::Up, part(applied), part(shown)).unwrap_err().to_string();
    assert!(error.starts_with(says), "{error}");
}

#[test]
fn nothing_comes_of_nothing() {
    assert_eq!(findings(&[]).unwrap_err(), FivePointError::NoPoints);
    let open = ElectricCurrent::new::<milliampere>(0.0);
    let zero = Pressure::new::<kilopascal>(0.0);
    let error = Point::by_current(&range(Action::Direct), Run::Up, zero, open).unwrap_err();
    assert!(matches!(error, FivePointError::NotMeasuring { .. }), "{error}");
    assert_eq!(Range::new(zero, zero, Action::Direct).unwrap_err(), RangingError::NoSpan);
}

fn quality(tolerance: f64, source: f64) -> Quality {
    Quality { tolerance: part(tolerance), source: part(source), meter: None, digit: part(0.0) }
}

#[rstest]
#[case::well_inside(0.35, Some(Conformity::Pass))]
#[case::inside_the_guard_band(0.45, Some(Conformity::ConditionalPass))]
#[case::just_outside(-0.55, Some(Conformity::ConditionalFail))]
#[case::outside(-0.65, Some(Conformity::Fail))]
fn the_worst_point_is_judged_with_a_guard_band(#[case] error: f64, #[case] expected: Option<Conformity>) {
    let found = check(&[(0.0, 0.0), (50.0, 50.0 + error)]);
    let judged = judge(&found, &quality(0.5, 0.1)).unwrap();
    assert_eq!(judged.conformity, expected);
    assert!(near(Some(judged.acceptance), 0.4) && judged.source_is_good());
}

/// Source 0.03, meter 0.04, a digit of 0.05 x sqrt(3) = 0.0866: 0.05 twice in quadrature, 0.0707.
#[test]
fn source_meter_and_digit_add_in_quadrature() {
    let quality =
        Quality { meter: Some(part(0.04)), digit: part(0.086_602_540_378_443_87), ..quality(0.2, 0.03) };
    let judged = judge(&check(&[(0.0, 0.0)]), &quality).unwrap();
    assert!(near(Some(judged.expanded), 0.070_710_678_118_654_75), "{judged:?}");
}

#[rstest]
#[case::as_large(0.5)]
#[case::larger(0.7)]
fn an_uncertainty_not_below_the_tolerance_judges_nothing(#[case] source: f64) {
    let judged = judge(&check(&[(0.0, 0.0)]), &quality(0.5, source)).unwrap();
    assert_eq!(judged.conformity, None);
    assert!(!judged.source_is_good() && near(Some(judged.acceptance), 0.0));
}

#[rstest]
#[case::no_tolerance(0.0, 0.1)]
#[case::negative_tolerance(-0.5, 0.1)]
#[case::perfect_source(0.5, 0.0)]
#[case::negative_source(0.5, -0.1)]
#[case::nan(f64::NAN, 0.1)]
#[case::source_nan(0.5, f64::NAN)]
fn what_nothing_can_be_judged_by_is_refused(#[case] tolerance: f64, #[case] source: f64) {
    assert!(judge(&check(&[(0.0, 0.0)]), &quality(tolerance, source)).is_err());
}

#[test]
fn four_times_better_is_good_enough() {
    let tur = |source| judge(&check(&[(0.0, 0.0)]), &quality(0.3, source)).unwrap();
    assert!(tur(0.075).source_is_good() && !tur(0.076).source_is_good());
}

proptest! {
    /// A line lifted or tilted as a whole changes neither hysteresis nor nonlinearity.
    #[test]
    fn a_zero_or_span_error_is_no_other_error(
        errors in proptest::collection::vec(-1.0..1.0_f64, 9),
        zero in -2.0..2.0_f64,
        span in -2.0..2.0_f64,
    ) {
        let steps = [0.0, 25.0, 50.0, 75.0, 100.0, 75.0, 50.0, 25.0, 0.0];
        let plain: Vec<_> = steps.iter().zip(&errors).map(|(at, error)| (*at, at + error)).collect();
        let moved: Vec<_> = plain.iter().map(|(at, shown)| (*at, shown + zero + span * at / 100.0)).collect();
        let (plain, moved) = (check(&plain), check(&moved));
        let same = |one: Option<Ratio>, other: Option<Ratio>, by: f64| {
            near(other, one.unwrap().get::<percent>() + by)
        };
        prop_assert!(same(plain.terminal, moved.terminal, 0.0) && same(plain.independent, moved.independent, 0.0));
        prop_assert!(same(plain.zero, moved.zero, zero) && same(plain.span, moved.span, span));
        let size = |found: &Findings| found.hysteresis.map(|hysteresis| hysteresis.size);
        prop_assert!(same(size(&plain), size(&moved), 0.0));
        prop_assert!(plain.independent.unwrap() <= plain.terminal.unwrap() + part(1e-9));
    }

    /// No other line lies nearer to all errors than the independent nonlinearity says.
    #[test]
    fn no_line_is_better_than_the_best(
        errors in proptest::collection::vec(-1.0..1.0_f64, 5),
        zero in -1.5..1.5_f64,
        slope in -3.0..3.0_f64,
    ) {
        let taken: Vec<_> = (0..5u8).map(f64::from).zip(&errors).map(|(at, error)| (at * 25.0, at * 25.0 + error)).collect();
        let best = check(&taken).independent.unwrap().get::<percent>();
        let far = (0..5u8).map(f64::from).zip(&errors).map(|(at, error)| (error - zero - slope * at / 4.0).abs());
        prop_assert!(best <= far.fold(0.0, f64::max) + 1e-9);
    }

    /// Any finite point gives finite findings; nothing else gives any.
    #[test]
    fn numbers_in_numbers_out(taken in proptest::collection::vec((-5.0..105.0_f64, -1e6..1e6_f64), 1..40)) {
        let found = check(&taken);
        let all = [found.zero, found.span, found.terminal, found.independent];
        prop_assert!(all.into_iter().flatten().all(|part| part.value.is_finite()));
        prop_assert!(found.points.iter().all(|point| point.error().abs() <= found.worst.error().abs()));
    }
}
