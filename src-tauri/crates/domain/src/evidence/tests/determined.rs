//! What determines the shift, by rank alone, and the ways out where nothing does.
//!
//! Numbers are invented for the case and worked out by hand where they are used; published values stand in
//! `tests/suite/reference`.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near, pascals};
use crate::evidence::{Carried, Case, Outcome, Spread, WayOut};

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
