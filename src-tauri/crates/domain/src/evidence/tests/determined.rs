//! What determines the shift, by rank alone, and the ways out where nothing does.
//!
//! Numbers are invented for the case and worked out by hand where they are used; published values stand in
//! `tests/suite/reference`.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near, pascals};
use crate::evidence::{Carried, Case, Input, Outcome, Spread, WayOut};

const SEEN: Spread<f64> = Spread::Standard(20.0);
const TAPED: Spread<f64> = Spread::Standard(0.003);

/// What a visit brings.
#[derive(Clone, Copy)]
struct Brought {
    offset: bool,
    reading: bool,
    level: bool,
    riser: bool,
    vented: bool,
    allowance: bool,
}

const NOTHING: Brought =
    Brought { offset: false, reading: true, level: false, riser: false, vented: false, allowance: true };

fn tower(brought: Brought) -> Tower {
    let mut tower = Tower::real(brought.offset.then_some(0.0));
    if brought.reading {
        tower.reads(25.0 * FOOT, SEEN);
    }
    if brought.level {
        tower.dipped(feet(5.0).value, TAPED);
    }
    if brought.riser {
        tower.riser(feet(20.0).value, TAPED);
    }
    if brought.vented {
        tower.vented(0.0, SEEN);
    }
    if brought.allowance {
        tower.allow_zero(Spread::Rectangular(100.0));
    }
    tower
}

#[rstest]
#[case::a_level_needs_no_offset(Brought { level: true, ..NOTHING }, true, false)]
#[case::a_level_needs_no_allowance(Brought { level: true, allowance: false, ..NOTHING }, true, false)]
#[case::a_riser_with_a_vented_check_needs_no_offset(Brought { riser: true, vented: true, ..NOTHING }, true, false)]
#[case::nor_a_reading_under_head(Brought { riser: true, vented: true, reading: false, ..NOTHING }, true, false)]
#[case::a_riser_with_the_offset_leans_on_the_allowance(Brought { riser: true, offset: true, ..NOTHING }, true, true)]
#[case::and_is_nothing_without_it(Brought { riser: true, offset: true, allowance: false, ..NOTHING }, false, false)]
#[case::a_riser_without_the_offset(Brought { riser: true, ..NOTHING }, false, false)]
#[case::a_vented_check_alone(Brought { vented: true, ..NOTHING }, false, false)]
#[case::a_vented_check_with_the_offset(Brought { vented: true, offset: true, ..NOTHING }, false, false)]
#[case::a_level_that_no_reading_saw(Brought { level: true, reading: false, ..NOTHING }, false, false)]
#[case::a_level_with_a_riser_leaves_the_allowance_out(Brought { level: true, riser: true, offset: true, ..NOTHING }, true, false)]
fn the_rank_decides(#[case] brought: Brought, #[case] determined: bool, #[case] leans: bool) {
    let outcome = tower(brought).outcome().unwrap();
    assert_eq!(outcome.determined().is_some(), determined);
    assert_eq!(outcome.determined().is_some_and(|solved| solved.leans_on_allowance), leans);
}

#[rstest]
#[case::a_riser_alone(
    Brought { riser: true, ..NOTHING },
    &[WayOut::ReadOffset, WayOut::BringLevel, WayOut::VentedCheck, WayOut::ClearOffset],
)]
#[case::a_riser_alone_and_no_allowance(
    Brought { riser: true, allowance: false, ..NOTHING },
    &[WayOut::BringLevel, WayOut::VentedCheck],
)]
#[case::only_a_reading(NOTHING, &[WayOut::BringLevel])]
#[case::a_vented_check(Brought { vented: true, ..NOTHING }, &[WayOut::BringLevel, WayOut::MeasureRiser])]
#[case::only_the_offset(Brought { offset: true, ..NOTHING }, &[WayOut::BringLevel, WayOut::MeasureRiser])]
fn ways_out_come_in_their_order(#[case] brought: Brought, #[case] expected: &[WayOut]) {
    let Outcome::NotDetermined(ways) = tower(brought).outcome().unwrap() else {
        panic!("this should not determine a shift");
    };
    assert_eq!(ways, expected);
}

#[rstest]
fn with_the_offset_unknown_a_level_gives_a_shift_but_no_total() {
    let solved = tower(Brought { level: true, ..NOTHING }).solved();
    assert!(solved.total.is_none() && solved.carried.is_none() && solved.zero.is_none());
    near(solved.shift.value.value / FOOT, -20.0, 1e-9);
}

#[rstest]
fn a_level_with_riser_and_offset_tells_the_sensors_zero() {
    let mut tower = Tower::real(Some(0.0));
    // 20 ft of riser and 5 ft of level make 25; the display shows 60 Pa more.
    tower.reads(25.0 * FOOT + 60.0, SEEN);
    tower.dipped(feet(5.0).value, TAPED);
    tower.riser(feet(20.0).value, TAPED);
    tower.allow_zero(Spread::Standard(1.0));
    let solved = tower.solved();
    near(solved.zero.unwrap().value.value, 60.0, 1e-6);
    // However narrow the allowance, it must not pull a measured shift.
    near(solved.shift.value.value, -20.0 * FOOT - 60.0, 1e-6);
}

#[rstest]
fn an_offset_from_a_record_is_listed_as_assumed_with_its_share() {
    let mut tower = Tower::real(None);
    let record = tower.pressure("offset by the record", -FOOT, Spread::Rectangular(300.0));
    tower.offset = tower.case.offset(Carried::OnRecord(record));
    tower.reads(24.0 * FOOT, SEEN);
    tower.riser(feet(20.0).value, TAPED);
    tower.allow_zero(Spread::Rectangular(100.0));
    let solved = tower.solved();
    let shares: Vec<(&str, f64)> =
        solved.assumptions.iter().map(|one| (one.label.as_str(), one.share)).collect();
    assert_eq!(shares.len(), 2, "{shares:?}");
    assert_eq!(shares[0].0, "offset by the record");
    // By hand: 300^2/3 = 30000 Pa2 of record, 100^2/3 = 3333 of allowance, and of the riser
    // (0.003 * 9806.65)^2 = 866, density (0.25/1000 * 59782)^2 = 223, gravity (0.0005/9.80665 * 59782)^2 = 9.3.
    near(shares[0].1, 30000.0 / (30000.0 + 3333.3 + 865.5 + 223.4 + 9.3), 1e-4);
}

#[rstest]
fn clearing_the_offset_is_a_state_of_its_own() {
    let mut tower = Tower::real(None);
    tower.reads(22.0 * FOOT, SEEN);
    let cleared = tower.pressure("offset just cleared", 0.0, Spread::Exact);
    let before = tower.offset;
    tower.offset = tower.case.offset(Carried::Known(cleared));
    tower.reads(25.0 * FOOT, SEEN);
    tower.riser(feet(20.0).value, TAPED);
    tower.allow_zero(Spread::Rectangular(50.0));
    let solved = tower.solved();
    near(solved.to.value / FOOT, 5.0, 1e-9);
    // The reading before clearing saw the same level, so the old offset follows and can be put back.
    let old = tower.case.reconcile(&crate::evidence::Ask { offset: before, ..tower.ask() }).unwrap();
    near(old.determined().unwrap().carried.unwrap().value.value / FOOT, -3.0, 1e-9);
}

#[rstest]
fn no_evidence_is_an_error_and_not_a_number() {
    let tower = tower(Brought { reading: false, ..NOTHING });
    assert!(tower.outcome().is_err());
    assert!(Case::new().reconcile(&tower.ask()).is_err());
    assert_eq!(tower.display, pascals(0.0));
}

#[rstest]
fn an_allowance_is_taken_where_it_stands() {
    // A sensor that is said to show 30 Pa too much over 20 ft of riser.
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.riser(feet(20.0).value, Spread::Exact);
    let zero = tower.pressure("the sensor's own zero", 30.0, SEEN);
    tower.case.allow_zero(&[zero]);
    let solved = tower.solved();
    near(solved.shift.value.value, -20.0 * FOOT - 30.0, 1e-6);
    near(solved.shift.standard.value, 20.0, 1e-6);
}

#[rstest]
fn pressures_on_top_of_the_columns_stand_in_the_head() {
    // 20 ft of riser on the high side, 5 ft on the low, and 200 Pa more.
    let mut tower = Tower::exact(Some(0.0));
    tower.vented(0.0, SEEN);
    let (high, low) = (feet(20.0).value, feet(5.0).value);
    let (high, low) = (tower.length("high", high, Spread::Exact), tower.length("low", low, Spread::Exact));
    let more = tower.pressure("more", 200.0, Spread::Exact);
    let by = tower.case.reference("columns");
    tower.case.standing_with(by, &[(1.0, tower.water, high), (-1.0, tower.water, low)], &[more]);
    let solved = tower.solved();
    near(solved.head.unwrap().value.value, 15.0 * FOOT + 200.0, 1e-6);
    near(solved.shift.value.value, -15.0 * FOOT - 200.0, 1e-6);
}

#[rstest]
fn a_stub_left_in_a_vented_check_is_no_zero() {
    // The display shows 3 ft, of which 2 ft stand in the stub: one is the sensor's.
    let mut tower = Tower::exact(Some(0.0));
    tower.riser(feet(20.0).value, Spread::Exact);
    let shown = tower.pressure("vented display", 3.0 * FOOT, SEEN);
    let stub = tower.length("stub", feet(2.0).value, Spread::Exact);
    let by = tower.case.reference("vented check");
    tower.case.vented(by, tower.offset, &[shown], &[(tower.water, stub)]);
    near(tower.solved().shift.value.value, -21.0 * FOOT, 1e-6);
}

#[rstest]
fn an_offset_that_is_changed_or_told_later_is_carried_with_its_sign() {
    // -3 ft carried; changed by -17 ft it is -20 ft.
    let mut tower = Tower::exact(Some(-3.0 * FOOT));
    tower.reads(22.0 * FOOT, SEEN);
    let change = tower.pressure("trim", -17.0 * FOOT, Spread::Exact);
    tower.offset = tower.case.offset_changed(tower.offset, change);
    tower.reads(5.0 * FOOT, SEEN);
    tower.dipped(feet(5.0).value, TAPED);
    let solved = tower.solved();
    near(solved.carried.unwrap().value.value, -20.0 * FOOT, 1e-6);
    near(solved.shift.value.value, 0.0, 1e-6);
    let mut tower = Tower::exact(None);
    tower.reads(22.0 * FOOT, SEEN);
    tower.dipped(feet(5.0).value, TAPED);
    let read = tower.pressure("offset", -3.0 * FOOT, Spread::Exact);
    tower.case.offset_is(tower.offset, read);
    near(tower.solved().total.unwrap().value.value, -20.0 * FOOT, 1e-6);
}

#[rstest]
fn what_is_stated_anew_stands_in_the_place_of_the_old() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    let dip = tower.length("dip", 9.0, TAPED);
    let by = tower.case.reference("dip");
    tower.case.level_is(by, tower.level, &[dip], &[]);
    let anew = Input::length("dip again", feet(5.0), Spread::Standard(super::tower::metres(0.002)));
    tower.case.restate(dip, anew);
    near(tower.solved().shift.value.value, -20.0 * FOOT, 1e-6);
    let named = tower.case.input_named(dip).unwrap();
    assert_eq!(
        (named.label(), tower.case.standard_length(dip)),
        ("dip again", Some(super::tower::metres(0.002)))
    );
    let pressure = tower.pressure("pressure", 1.0, SEEN);
    assert_eq!(tower.case.standard_length(pressure), None);
}

/// The display shows less over a length than the liquid presses, so the level counts; it is the same that leads there.
#[rstest]
fn ways_out_are_those_of_the_rule() {
    let mut tower = tower(Brought { riser: true, allowance: false, ..NOTHING });
    tower.true_at_reference(0.9 * FOOT);
    let Outcome::NotDetermined(ways) = tower.outcome().unwrap() else { panic!("no level is known") };
    assert_eq!(ways, [WayOut::BringLevel, WayOut::VentedCheck]);
}
