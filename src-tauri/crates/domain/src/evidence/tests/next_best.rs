//! What another measurement would do, by hand calculation.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, metres, near};
use crate::evidence::{Case, Input, LevelId, OffsetId, Reading, Spread};

const NORMAL: f64 = 1.959_964;

/// Supposes a dip, each to so many metres, of a level.
fn dip(case: &mut Case, level: LevelId, standard: f64) {
    let dip = case.input(Input::length("another dip", feet(5.0), Spread::Standard(metres(standard))));
    let by = case.reference("another dip");
    case.level_is(by, level, &[dip], &[]);
}

/// Supposes that an exact display and an exact dip see a level of their own.
fn seen_elsewhere(case: &mut Case, offset: OffsetId, tower: &Tower) {
    let level = case.level();
    let shown = case.input(Input::pressure("display", tower.display, Spread::Exact));
    let reading =
        Reading { offset, level, column: tower.water, parts: vec![shown], elapsed: None, lag: None };
    case.reading(&reading);
    let dip = case.input(Input::length("dip", feet(5.0), Spread::Exact));
    let by = case.reference("dip");
    case.level_is(by, level, &[dip], &[]);
}

#[rstest]
fn another_dip_is_reckoned_with_before_anybody_makes_it() {
    // 10 Pa of display, and a dip to 3 mm; beside one to 4 mm it is one to 12 / 5 mm.
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, Spread::Standard(10.0));
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    let ask = tower.ask();
    let outlook = tower.case.outlook(&ask).unwrap();
    near(outlook.now().unwrap().value, NORMAL * 10.0_f64.hypot(0.003 * 9806.65), 1e-4);
    near(outlook.level().unwrap().value, feet(5.0).value, 1e-9);
    let with = outlook.with(|case| dip(case, tower.level, 0.004)).unwrap();
    near(with.value, NORMAL * 10.0_f64.hypot(0.0024 * 9806.65), 1e-4);
}

#[rstest]
fn where_nothing_is_determined_there_is_no_uncertainty_until_something_would_be() {
    let mut tower = Tower::real(None);
    tower.reads(25.0 * FOOT, Spread::Standard(10.0));
    let ask = tower.ask();
    let mut outlook = tower.case.outlook(&ask).unwrap();
    assert_eq!((outlook.now(), outlook.level()), (None, None));
    assert_eq!(outlook.with(|_| ()), None);
    // A quarter of 1000 kg/m3 over 10 m, 24.516 625 Pa, and half a thousandth of gravity over them, 5 Pa.
    outlook.stands_about(metres(10.0));
    let with = outlook.with(|case| seen_elsewhere(case, tower.offset, &tower)).unwrap();
    near(with.value, NORMAL * 24.516_625_f64.hypot(5.0), 1e-4);
    outlook.stands_about(metres(0.0));
    near(outlook.with(|case| seen_elsewhere(case, tower.offset, &tower)).unwrap().value, 0.0, 0.01);
}

#[rstest]
fn a_narrow_allowance_makes_no_measured_shift_surer_and_carries_one_that_is_not() {
    // A vented check to 100 Pa, an allowance to 1 Pa.
    let mut tower = Tower::exact(Some(0.0));
    tower.riser(feet(20.0).value, Spread::Exact);
    tower.allow_zero(Spread::Standard(1.0));
    let ask = tower.ask();
    let leaning = tower.case.outlook(&ask).unwrap();
    near(leaning.now().unwrap().value, NORMAL, 1e-4);
    let check = |case: &mut Case| {
        let shown = super::tower::pascals(0.0);
        let shown =
            case.input(Input::pressure("vented", shown, Spread::Standard(super::tower::pascals(100.0))));
        let by = case.reference("vented check");
        case.vented(by, tower.offset, &[shown], &[]);
    };
    near(leaning.with(check).unwrap().value, NORMAL * 100.0, 1e-4);
    let mut measured = tower.case.clone();
    check(&mut measured);
    near(measured.outlook(&ask).unwrap().now().unwrap().value, NORMAL * 100.0, 1e-4);
}

#[rstest]
fn a_third_reference_settles_which_of_two_is_wrong_and_the_same_once_more_does_not() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, Spread::Standard(10.0));
    let first = tower.length("dip", feet(5.0).value, Spread::Standard(0.003));
    let by = tower.case.reference("dip");
    tower.case.level_is(by, tower.level, &[first], &[]);
    dip(&mut tower.case, tower.level, 0.003);
    let ask = tower.ask();
    let outlook = tower.case.outlook(&ask).unwrap();
    assert!(!outlook.settles(|_| ()));
    assert!(outlook.settles(|case| dip(case, tower.level, 0.003)));
    let again = |case: &mut Case| {
        let by = case.reference("the same dip");
        case.level_is(by, tower.level, &[first], &[]);
    };
    assert!(!outlook.settles(again));
}
