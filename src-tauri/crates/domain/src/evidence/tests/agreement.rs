//! Whether evidence agrees, and what may be said when it does not.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near};
use crate::evidence::{Agreement, Spread};

const SEEN: Spread<f64> = Spread::Standard(10.0);

/// A dip and a vented riser whose implied shifts lie `apart` pascals from each other.
fn dip_against_riser(apart: f64) -> Tower {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT + apart, SEEN);
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    tower.riser(feet(20.0).value, Spread::Standard(0.005));
    tower.vented(0.0, SEEN);
    tower
}

#[rstest]
fn one_comparison_by_hand() {
    let solved = dip_against_riser(100.0).solved();
    let variance: f64 =
        10.0_f64.powi(2) * 2.0 + (0.003 * 9806.65_f64).powi(2) + (0.005 * 9806.65_f64).powi(2);
    near(solved.consistency.chi_square, 1e4 / variance, 1e-6);
    assert_eq!((solved.consistency.redundancy, solved.consistency.independent), (1, 1));
    assert_eq!(solved.consistency.agreement, Agreement::Agrees);
    // With one comparison every normalised residual is as large as any other.
    for (_, residual) in &solved.consistency.residuals {
        near(residual.abs(), 100.0 / variance.sqrt(), 1e-6);
    }
    let lines: Vec<&str> = solved.alone.iter().map(|line| line.label.as_str()).collect();
    assert_eq!(lines, ["dip from the floor", "measured riser with vented check"]);
    let [pair] = solved.pairs.as_slice() else { panic!("two lines make one pair") };
    assert!(pair.independent);
    near(pair.correlation, 0.0, 1e-9);
    near(pair.difference.value.value.abs(), 100.0, 1e-6);
    near(pair.en.unwrap().abs(), 100.0 / (1.959_964 * variance.sqrt()), 1e-6);
}

#[rstest]
fn with_one_comparison_two_things_disagree_and_none_is_named() {
    let solved = dip_against_riser(5000.0).solved();
    assert_eq!(solved.consistency.agreement, Agreement::TwoDisagree);
    assert!(solved.consistency.chance < 1e-6);
}

#[rstest]
fn a_dip_alone_is_unchecked() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    tower.dipped(feet(5.0).value, Spread::Standard(0.003));
    let solved = tower.solved();
    assert_eq!(solved.consistency.agreement, Agreement::Unchecked);
    assert!(solved.pairs.is_empty());
}

#[rstest]
fn two_dips_by_one_tape_check_only_their_scatter() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    let tape = tower.length("tape", 0.0, Spread::Standard(0.010));
    for _ in 0..2 {
        let dip = tower.length("dip", feet(5.0).value, Spread::Standard(0.001));
        let by = tower.case.reference("dip");
        tower.case.level_is(by, tower.level, &[dip, tape], &[]);
    }
    let solved = tower.solved();
    assert_eq!((solved.consistency.redundancy, solved.consistency.independent), (1, 0));
    assert_eq!(solved.consistency.agreement, Agreement::AgreesWithinShared);
    let [pair] = solved.pairs.as_slice() else { panic!("two dips make one pair") };
    assert!(!pair.independent);
    // Shared: 10 Pa of reading and 10 mm of tape; own: 1 mm each.
    let shared = 10.0_f64.powi(2) + (0.010 * 9806.65_f64).powi(2);
    near(pair.correlation, shared / (shared + 9.80665_f64.powi(2)), 1e-6);
    near(pair.difference.standard.value, 9.80665 * 2.0_f64.sqrt(), 1e-6);
}

/// Empty tank, dip and vented riser, each with a reading of its own and nothing shared but the sensor's state.
fn three(empty: f64, dip: f64, riser: f64) -> Tower {
    let mut tower = Tower::exact(None);
    let low = tower.case.level();
    let shown = tower.pressure("display, empty", 20.0 * FOOT, SEEN);
    tower.reads_as(&[shown], low);
    let sill = tower.length("sill", empty, Spread::Standard(0.003));
    let by = tower.case.reference("known empty");
    tower.case.level_is(by, low, &[sill], &[]);
    tower.reads(25.0 * FOOT, SEEN);
    tower.dipped(feet(5.0).value + dip, Spread::Standard(0.003));
    tower.riser(feet(20.0).value + riser, Spread::Standard(0.003));
    tower.vented(0.0, SEEN);
    tower
}

#[rstest]
#[case::all_agree(three(0.0, 0.0, 0.0), Agreement::Agrees)]
#[case::three_apart(three(1.0, -2.0, 0.0), Agreement::Disagrees)]
fn three_references(#[case] tower: Tower, #[case] expected: Agreement) {
    let solved = tower.solved();
    assert_eq!((solved.consistency.redundancy, solved.consistency.independent), (2, 2));
    assert_eq!(solved.consistency.agreement, expected);
}

#[rstest]
#[case::the_sill(three(0.3, 0.0, 0.0), "known empty")]
#[case::the_dip(three(0.0, 0.3, 0.0), "dip from the floor")]
fn with_two_comparisons_the_odd_one_is_named(#[case] tower: Tower, #[case] expected: &str) {
    let solved = tower.solved();
    let Agreement::Suspect(reference) = solved.consistency.agreement else {
        panic!("{:?}", solved.consistency);
    };
    assert_eq!(tower.case.reference_named(reference), Some(expected));
}

#[rstest]
fn a_riser_that_needs_its_vented_check_shares_the_suspicion_with_it() {
    // Riser and vented check only speak together: either could be the odd one, so neither is named.
    assert_eq!(three(0.0, 0.0, 0.3).solved().consistency.agreement, Agreement::Disagrees);
}

#[rstest]
fn two_exact_statements_that_contradict_each_other_are_caught() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.dipped(1.0, Spread::Exact);
    tower.dipped(2.0, Spread::Exact);
    let solved = tower.solved();
    assert_eq!(solved.consistency.agreement, Agreement::TwoDisagree);
}

#[rstest]
fn the_allowance_questions_a_riser_beside_a_dip_without_touching_the_shift() {
    let shift = |wrong: f64| {
        let mut tower = Tower::exact(Some(0.0));
        tower.reads(25.0 * FOOT, SEEN);
        tower.dipped(feet(5.0).value, Spread::Standard(0.003));
        tower.riser(feet(20.0).value + wrong, Spread::Standard(0.003));
        tower.allow_zero(Spread::Rectangular(100.0));
        tower.solved()
    };
    let (sound, slipped) = (shift(0.0), shift(0.3048));
    assert_eq!(sound.consistency.agreement, Agreement::Agrees);
    assert_eq!(slipped.consistency.agreement, Agreement::TwoDisagree);
    near(slipped.shift.value.value, sound.shift.value.value, 1e-6);
    near(slipped.alone[1].shift.unwrap().value.value, -(20.0 + 1.0) * FOOT, 1e-6);
    assert!(slipped.alone[1].leans_on_allowance);
    assert!(slipped.pairs[0].en.unwrap().abs() > 1.0);
}
