//! Whether evidence agrees, and what may be said when it does not.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near, pascals};
use crate::evidence::{Agreement, Ask, Carried, Spread};

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
    let lines: Vec<&str> = solved.alone.iter().map(|line| line.label.as_str()).collect();
    assert_eq!(lines, ["dip from the floor", "measured riser with vented check"]);
    let [pair] = solved.pairs.as_slice() else { panic!("two lines make one pair") };
    assert!(pair.independent);
    near(pair.correlation, 0.0, 1e-9);
    near(pair.difference.value.value.abs(), 100.0, 1e-6);
    near(pair.en.unwrap().abs(), 100.0 / (1.959_964 * variance.sqrt()), 1e-6);
    // 100 Pa of 58.905 Pa are 1.6977 deviations, which chance passes 0.0896 times.
    near(pair.chance, 0.0896, 1e-4);
    assert!(!pair.disagrees() && solved.alone.iter().all(|line| !line.leans_on_allowance));
}

#[rstest]
fn with_one_comparison_two_things_disagree_and_none_is_named() {
    let solved = dip_against_riser(5000.0).solved();
    assert_eq!(solved.consistency.agreement, Agreement::TwoDisagree);
    assert!(solved.consistency.chance < 1e-6);
    assert!(solved.pairs[0].disagrees());
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
    near(solved.pairs[0].correlation, 0.0, 0.0);
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

/// Some dips of one level, each with its own standard uncertainty, in millimetres.
fn dips(dips: &[(f64, f64)]) -> Tower {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    for (off, standard) in dips {
        let spread = if *standard > 0.0 { Spread::Standard(standard * 1e-3) } else { Spread::Exact };
        tower.dipped(1.5 + off * 1e-3, spread);
    }
    tower
}

/// Chance takes honest evidence beyond 3.0902 standard deviations once in five hundred times.
#[rstest]
#[case::as_far_as_chance_goes(3.089, Agreement::Agrees)]
#[case::further(3.091, Agreement::TwoDisagree)]
fn evidence_disagrees_beyond_one_in_five_hundred(#[case] deviations: f64, #[case] expected: Agreement) {
    // 3 against 4 mm: five.
    let solved = dips(&[(0.0, 3.0), (5.0 * deviations, 4.0)]).solved();
    near(solved.consistency.chi_square, deviations * deviations, 1e-4);
    assert_eq!(solved.consistency.agreement, expected);
}

/// Two dips that share a tape known to so many times what each is known to by itself: their difference sees one part in
/// one and that many squared.
#[rstest]
// 1 in 9.41 is more than a tenth, 1 in 10.61 is less.
#[case::mostly_shared(2.9, 1)]
#[case::nearly_all_shared(3.1, 0)]
fn a_comparison_that_sees_under_a_tenth_is_none_of_causes(#[case] times: f64, #[case] independent: usize) {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    let tape = tower.length("tape", 0.0, Spread::Standard(times * 1e-3));
    for _ in 0..2 {
        let dip = tower.length("dip", 1.5, Spread::Standard(1e-3));
        let by = tower.case.reference("dip");
        tower.case.level_is(by, tower.level, &[dip, tape], &[]);
    }
    let seen = tower.solved().consistency;
    assert_eq!((seen.redundancy, seen.independent), (1, independent));
}

/// Exact statements hold to a tenth of a micrometre, and in a comparison of two to ten times that by the root of two.
#[rstest]
#[case::the_same(0.0, 0.0, 0)]
#[case::apart_by_rounding(1e-3, 0.0, 0)]
#[case::apart(2e-3, 0.0, 1)]
#[case::below(-2e-3, 0.0, 1)]
#[case::known_as_well_as_exactly(0.0, 0.2e-3, 0)]
#[case::known_less_well(0.0, 0.5e-3, 1)]
fn an_exact_statement_repeated_checks_nothing(#[case] off: f64, #[case] standard: f64, #[case] count: usize) {
    let seen = dips(&[(0.0, standard), (off, standard)]).solved().consistency;
    assert_eq!(seen.redundancy, count);
    // 9800 Pa a metre, over the root of two for a difference: 2 micrometres are 13.86 mPa, 13.86 times what is exact.
    let expected = if off.abs() > 1.5e-3 { 192.08 } else { 0.0 };
    near(seen.chi_square, expected, 0.01);
}

/// 0, 0 and 6 mm known to 1, 1 and 2 mm: their mean is 2/3 mm, and they lie 4/9 + 4/9 + 64/9 from it in squares; two
/// comparisons leave so much to chance with exp(-4). A vented check beside them compares with nothing.
#[rstest]
fn what_is_less_sure_counts_for_less() {
    let mut tower = dips(&[(0.0, 1.0), (0.0, 1.0), (6.0, 2.0)]);
    tower.vented(0.0, SEEN);
    let seen = tower.solved().consistency;
    assert_eq!((seen.redundancy, seen.independent), (2, 2));
    near(seen.chi_square, 8.0, 1e-3);
    near(seen.chance, 0.018_316, 1e-5);
}

/// A list of levels, wrong in both of its lines, and a dip at each of the two levels, read in two states of the unit.
#[rstest]
fn what_every_comparison_rests_on_is_not_named_because_the_rest_checks_nothing() {
    let mut tower = Tower::exact(None);
    let known = Spread::Standard(0.003);
    let list = tower.case.reference("list of levels");
    let levels = [tower.case.level(), tower.case.level()];
    let dips = levels.map(|level| {
        let listed = tower.length("listed", 2.0, known);
        tower.case.level_is(list, level, &[listed], &[]);
        let dip = tower.length("dip", 1.5, known);
        let by = tower.case.reference("dip");
        tower.case.level_is(by, level, &[dip], &[]);
        tower.offset = tower.case.offset(Carried::Unknown);
        let shown = tower.pressure("display", 200_000.0, SEEN);
        tower.reads_as(&[shown], level);
        by
    });
    let ask = Ask { display: pascals(200_000.0), ..tower.ask() };
    let outcome = tower.case.reconcile(&ask).unwrap();
    let seen = &outcome.determined().unwrap().consistency;
    assert_eq!((seen.redundancy, seen.independent), (2, 2));
    assert_eq!(seen.agreement, Agreement::Disagrees, "{dips:?}");
}

#[rstest]
fn chance_is_reckoned_for_all_pairs_together() {
    // Three dips make three pairs; 0 and 10 mm at 3 and 4 mm are two deviations apart (0.045 500), the middle one at 5 mm is
    // as far from either in its own 1000 mm.
    let solved = dips(&[(0.0, 3.0), (10.0, 4.0), (5.0, 1000.0)]).solved();
    let told: Vec<_> = solved.pairs.iter().map(|pair| (pair.first, pair.second)).collect();
    assert_eq!(told, [(0, 1), (0, 2), (1, 2)]);
    near(solved.pairs[0].chance, 3.0 * 0.045_500, 1e-4);
    near(solved.pairs[1].chance, 1.0, 0.0);
    // The first says 10 mm less of level, 98.0665 Pa less of shift.
    near(solved.pairs[0].difference.value.value, -98.0665, 1e-6);
}

/// Two dips that share a tape known to so many times what each is known to by itself: they share that squared, of one more.
#[rstest]
// 8.41 of 9.41 is less than nine tenths, 9.61 of 10.61 more.
#[case::less(2.9, true)]
#[case::more(3.1, false)]
fn above_nine_tenths_shared_two_say_the_same_twice(#[case] times: f64, #[case] independent: bool) {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, Spread::Exact);
    let tape = tower.length("tape", 0.0, Spread::Standard(times * 1e-3));
    for _ in 0..2 {
        let dip = tower.length("dip", 1.5, Spread::Standard(1e-3));
        let by = tower.case.reference("dip");
        tower.case.level_is(by, tower.level, &[dip, tape], &[]);
    }
    let pair = &tower.solved().pairs[0];
    near(pair.correlation, times * times / (times * times + 1.0), 1e-6);
    assert_eq!(pair.independent, independent);
}

#[rstest]
fn two_that_share_everything_have_no_difference_to_speak_of() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    let dip = tower.length("dip", 1.5, Spread::Standard(0.003));
    for _ in 0..2 {
        let by = tower.case.reference("dip");
        tower.case.level_is(by, tower.level, &[dip], &[]);
    }
    let pair = &tower.solved().pairs[0];
    assert_eq!((pair.en, pair.independent), (None, false));
    near(pair.chance, 1.0, 0.0);
    near(pair.correlation, 1.0, 1e-9);
}

#[rstest]
fn three_that_share_their_tape_disagree_without_a_suspect() {
    // Each to 1 mm, with a tape to 10 mm; the third is 20 mm off.
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, SEEN);
    let tape = tower.length("tape", 0.0, Spread::Standard(0.010));
    for off in [0.0, 0.0, 0.020] {
        let dip = tower.length("dip", 1.5 + off, Spread::Standard(1e-3));
        let by = tower.case.reference("dip");
        tower.case.level_is(by, tower.level, &[dip, tape], &[]);
    }
    let seen = tower.solved().consistency;
    assert_eq!((seen.redundancy, seen.independent), (2, 0));
    assert_eq!(seen.agreement, Agreement::TwoDisagree);
}

#[rstest]
fn an_exact_statement_repeated_leaves_other_comparisons_as_they_are() {
    let mut tower = dip_against_riser(0.0);
    tower.dipped(feet(2.0).value, Spread::Exact);
    tower.dipped(feet(2.0).value, Spread::Exact);
    let seen = tower.solved().consistency;
    // The dip, and the riser with its vented check, each against the exact one.
    assert_eq!((seen.redundancy, seen.independent), (2, 2));
}
