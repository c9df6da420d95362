//! A level that moves between reading and dip.

use rstest::rstest;
use uom::si::f64::Time;
use uom::si::time::second;

use super::tower::{FOOT, Tower, feet, metres, near, pascals};
use crate::evidence::{Bracket, Input, Moved, Rate, Reading, Spread, straightness};

fn seconds(value: f64) -> Time {
    Time::new::<second>(value)
}

/// Readings 300 s before and 100 s after a dip of 5 ft, rising 1 mm/s over a 20 ft riser.
fn rising(lag: f64) -> Tower {
    let mut tower = Tower::real(None);
    let lag = tower.case.input(Input::time("damping", seconds(lag), Spread::Exact));
    for at in [-300.0, 100.0] {
        let late = if tower.case.input_named(lag).is_some() { at } else { 0.0 };
        let elapsed = tower.case.input(Input::time("when", seconds(late), Spread::Standard(seconds(5.0))));
        let seen = 25.0 * FOOT + (at - lag_of(&tower, lag)) * 1e-3 * 9806.65;
        let shown = tower.pressure("display", seen, Spread::Standard(5.0));
        let (offset, level, column) = (tower.offset, tower.level, tower.water);
        tower.case.reading(&Reading {
            offset,
            level,
            column,
            parts: vec![shown],
            elapsed: Some(elapsed),
            lag: Some(lag),
        });
        tower.display = pascals(seen);
    }
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    tower
}

fn lag_of(tower: &Tower, lag: crate::evidence::InputId) -> f64 {
    match tower.case.input_named(lag).unwrap().value() {
        crate::evidence::Amount::Time(time) => time.value,
        other => panic!("a lag is a time, not {other:?}"),
    }
}

#[rstest]
#[case::undamped(0.0)]
#[case::damped(20.0)]
fn the_dip_is_carried_to_the_readings(#[case] lag: f64) {
    let solved = rising(lag).solved();
    near(solved.shift.value.value / FOOT, -20.0, 1e-9);
    near(solved.levels[0].1.value.value, feet(5.0).value, 1e-9);
}

#[rstest]
fn carrying_costs_uncertainty() {
    let solved = rising(0.0).solved();
    // By hand: at the dip the line through the readings weighs them 1/4 and 3/4; 5 s of each time are worth
    // 5 mm of reading; then the dip's 3 mm, and density and gravity over 5 ft.
    let reading = 5.0_f64.hypot(5.0e-3 * 9806.65);
    let line = reading * 0.25_f64.hypot(0.75);
    let parts = [line, 0.003 * 9806.65, 0.25 * 9.80665 * 1.524, 0.0005 * 1000.0 * 1.524];
    near(solved.shift.standard.value, parts.iter().map(|part| part * part).sum::<f64>().sqrt(), 0.05);
}

#[rstest]
fn a_moving_level_read_once_determines_nothing_until_its_rate_is_given() {
    let mut tower = Tower::real(None);
    let elapsed = tower.case.input(Input::time("when", seconds(60.0), Spread::Exact));
    let shown = tower.pressure("display", 25.0 * FOOT + 0.060 * 9806.65, Spread::Standard(5.0));
    let (offset, level, column) = (tower.offset, tower.level, tower.water);
    let parts = vec![shown];
    tower.case.reading(&Reading { offset, level, column, parts, elapsed: Some(elapsed), lag: None });
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    assert!(tower.outcome().unwrap().determined().is_none());
    let rate = uom::si::f64::Velocity::new::<uom::si::velocity::meter_per_second>(1e-3);
    let rate = tower.case.input(Input::velocity("rate", rate, Spread::Exact));
    tower.case.rate(level, rate);
    near(tower.solved().shift.value.value / FOOT, -20.0, 1e-9);
}

fn bracket(change: f64, digit: f64, scatter: f64) -> Bracket {
    let digits = [metres(digit), metres(digit)];
    Bracket { change: metres(change), digits, scatter: metres(scatter), apart: seconds(80.0) }
}

#[rstest]
fn a_bracket_says_how_fast() {
    let rate = bracket(0.040, 0.010, 0.0).rate().expect("it moves");
    near(rate.value.value, 0.0005, 1e-12);
    // Two rectangles of a step of 10 mm each: 10 mm / 12^0.5 x 2^0.5 = 4.08 mm in 80 s.
    near(rate.standard.value, 0.010 / 6.0_f64.sqrt() / 80.0, 1e-12);
    near(bracket(-0.040, 0.010, 0.0).rate().unwrap().value.value, -0.0005, 1e-12);
    let scattering = bracket(0.040, 0.0, 0.003).rate().unwrap();
    near(scattering.standard.value, 0.003 * 2.0_f64.sqrt() / 80.0, 1e-12);
    let at_once = Bracket { apart: seconds(0.0), ..bracket(0.040, 0.010, 0.0) };
    assert!(at_once.rate().is_none() && !at_once.still());
}

#[rstest]
#[case::one_step(0.010, 0.010, 0.0, true)]
#[case::a_step_of_each_reading(0.020, 0.010, 0.0, true)]
#[case::more_than_both(0.030, 0.010, 0.0, false)]
#[case::falling_a_step(-0.010, 0.010, 0.0, true)]
#[case::falling(-0.030, 0.010, 0.0, false)]
// Three times the scatter of a difference: 3 x 2^0.5 x 8 mm = 33.9 mm.
#[case::by_scatter(0.033, 0.010, 0.008, true)]
#[case::beyond_scatter(0.035, 0.010, 0.008, false)]
fn digits_and_scatter_explain_a_small_change(
    #[case] change: f64,
    #[case] digit: f64,
    #[case] scatter: f64,
    #[case] still: bool,
) {
    let bracket = bracket(change, digit, scatter);
    assert_eq!((bracket.still(), bracket.rate().is_none()), (still, still));
}

#[rstest]
fn readings_that_stand_deny_a_rate_that_they_would_have_shown() {
    let rate = |a_second: f64| Rate::a_second(metres(a_second), metres(0.0));
    // Two steps of 10 mm in 80 s: 0.25 mm/s.
    assert!(
        bracket(0.0, 0.010, 0.0).denies(&rate(0.000_26)) && bracket(0.0, 0.010, 0.0).denies(&rate(-0.000_26))
    );
    assert!(!bracket(0.0, 0.010, 0.0).denies(&rate(0.000_24)));
    assert!(!bracket(0.030, 0.010, 0.0).denies(&rate(0.000_26)), "what moves denies nothing");
}

#[rstest]
fn a_rate_is_followed_for_a_time_and_then_left() {
    let rate = Rate::a_second(metres(-0.0005), metres(0.0001));
    let after = |time: f64| rate.over(seconds(time), seconds(600.0));
    // 200 mm down in 400 s; a quarter of that as a rectangle, 28.9 mm, beside 40 mm of the rate's own.
    near(after(400.0).by.value, -0.200, 1e-12);
    near(after(400.0).standard.value, (0.050 / 3.0_f64.sqrt()).hypot(0.040), 1e-12);
    assert!(!after(600.0).too_long && after(601.0).too_long);
    // At 1000 s it stays at 300 mm; 75 mm of that and the 200 mm it may have gone on make the rectangle.
    near(after(1000.0).by.value, -0.300, 1e-12);
    near(after(1000.0).standard.value, (0.275 / 3.0_f64.sqrt()).hypot(0.100), 1e-12);
    assert_eq!(after(-5.0), Moved::default());
}

#[rstest]
fn a_straight_line_may_miss_a_quarter_of_the_change() {
    assert_eq!(straightness(metres(0.040)), Spread::Rectangular(metres(0.010)));
    assert_eq!(straightness(metres(-0.040)), Spread::Rectangular(metres(0.010)));
    assert_eq!(straightness(metres(0.0)), Spread::Exact);
}

#[rstest]
fn a_level_that_moves_leaves_the_sensors_zero_to_what_tells_it() {
    // Rising 1 mm/s past 5 ft over 20 ft of riser; the display shows 60 Pa more than that.
    let mut tower = Tower::exact(Some(0.0));
    for at in [-300.0, 100.0] {
        let elapsed = tower.case.input(Input::time("when", seconds(at), Spread::Exact));
        let seen = 25.0 * FOOT + 60.0 + at * 1e-3 * 9806.65;
        let shown = tower.pressure("display", seen, Spread::Standard(5.0));
        let (offset, level, column) = (tower.offset, tower.level, tower.water);
        let (parts, elapsed) = (vec![shown], Some(elapsed));
        tower.case.reading(&Reading { offset, level, column, parts, elapsed, lag: None });
        tower.display = pascals(seen);
    }
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    tower.riser(feet(20.0).value, Spread::Standard(0.003));
    let solved = tower.solved();
    near(solved.zero.unwrap().value.value, 60.0, 1e-6);
    near(solved.shift.value.value, -20.0 * FOOT - 60.0, 1e-6);
    assert_eq!(solved.consistency.redundancy, 0);
}
