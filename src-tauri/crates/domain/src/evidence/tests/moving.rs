//! A level that moves between reading and dip.

use rstest::rstest;
use uom::si::f64::Time;
use uom::si::time::second;

use super::tower::{FOOT, Tower, feet, metres, near, pascals};
use crate::evidence::{Bracket, Input, Reading, Spread};

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

#[rstest]
fn a_bracket_says_how_fast_and_how_far() {
    let bracket = Bracket {
        before: pascals(10_000.0),
        after: pascals(10_400.0),
        until_dip: seconds(60.0),
        since_dip: seconds(20.0),
        per_metre: pascals(10_000.0),
    };
    near(bracket.change().value, 0.040, 1e-12);
    near(bracket.rate().unwrap().value, 0.0005, 1e-12);
    near(bracket.at_dip().value, 10_300.0, 1e-9);
    near(bracket.late(seconds(8.0)).unwrap().value, 0.004, 1e-12);
    assert_eq!(bracket.straightness(), Spread::Rectangular(metres(0.010)));
    let falling = Bracket { before: pascals(10_400.0), after: pascals(10_000.0), ..bracket };
    near(falling.change().value, -0.040, 1e-12);
    assert_eq!(falling.straightness(), Spread::Rectangular(metres(0.010)));
    assert!(bracket.still(metres(0.121)) && !bracket.still(metres(0.119)));
    let at_once = Bracket { until_dip: seconds(0.0), since_dip: seconds(0.0), ..bracket };
    assert!(at_once.rate().is_none());
    near(at_once.at_dip().value, 10_200.0, 1e-9);
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
