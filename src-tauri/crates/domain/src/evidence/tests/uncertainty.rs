//! How sure the shift is, by hand calculation.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near};
use crate::evidence::{Amount, Distribution, InputId, Spread, coverage_95};

fn pressure_of(amount: Amount) -> f64 {
    match amount {
        Amount::Pressure(pressure) => pressure.value,
        other => panic!("a shift's budget is in pressure, not {other:?}"),
    }
}

#[rstest]
fn a_dip_budget_adds_up_line_by_line() {
    let mut tower = Tower::real(None);
    let shown = tower.pressure("display", 25.0 * FOOT, Spread::Rectangular(30.0));
    let scatter = tower.pressure("display scatter", 0.0, Spread::Repeats { standard: 10.0, freedom: 4.0 });
    tower.reads_as(&[shown, scatter], tower.level);
    tower.dipped(feet(5.0).value, Spread::Expanded { half: 0.008, factor: 2.0 });
    let solved = tower.solved();
    // By hand: s = k L - r, so 30/sqrt 3, 10, k * 4 mm, and 5 ft of density and gravity.
    let expected = [
        ("dip", 0.004 * 9806.65),
        ("display", 30.0 / 3.0_f64.sqrt()),
        ("display scatter", 10.0),
        ("density of the water", 0.25 * 9.80665 * 1.524),
        ("local gravity", 0.0005 * 1000.0 * 1.524),
    ];
    for (row, (label, part)) in solved.budget.iter().zip(expected) {
        assert_eq!(row.label, label);
        near(pressure_of(row.contribution).abs(), part, 1e-6);
    }
    assert_eq!(solved.budget.len(), expected.len());
    near(solved.budget.iter().map(|row| row.share).sum::<f64>(), 1.0, 1e-9);
    let variance: f64 = expected.iter().map(|(_, part)| part * part).sum();
    near(solved.shift.standard.value, variance.sqrt(), 1e-6);
    near(solved.shift.freedom, variance * variance / (1e4 / 4.0), 1e-3 * solved.shift.freedom);
    near(solved.shift.expanded.value, solved.shift.coverage * solved.shift.standard.value, 1e-9);
    let dip = &solved.budget[0];
    assert_eq!((dip.distribution, dip.divisor), (Distribution::Normal, 2.0));
    near(dip.sensitivity, 9806.65, 1e-6);
}

#[rstest]
fn known_empty_needs_neither_density_nor_gravity() {
    let mut tower = Tower::real(None);
    tower.reads(20.0 * FOOT, Spread::Standard(15.0));
    tower.dipped(0.0, Spread::Exact);
    let solved = tower.solved();
    near(solved.shift.standard.value, 15.0, 1e-6);
    assert_eq!(solved.budget.len(), 1);
}

#[rstest]
fn true_at_the_reference_owes_nothing_to_the_density_either() {
    let mut tower = Tower::real(None);
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.dipped(feet(5.0).value, Spread::Exact);
    let at_zero = tower.solved().shift.standard.value;
    near(at_zero, (3.736_334_f64.powi(2) + 0.762_f64.powi(2)).sqrt(), 1e-4);
    tower.true_at_reference(FOOT);
    near(tower.solved().shift.standard.value, 0.0, 1e-6);
}

#[rstest]
fn one_tape_for_two_dips_does_not_average_down() {
    let two = |shared: bool| {
        let mut tower = Tower::real(None);
        tower.reads(25.0 * FOOT, Spread::Exact);
        let tape = tower.length("tape", 0.0, Spread::Standard(0.010));
        let other = if shared { tape } else { tower.length("other tape", 0.0, Spread::Standard(0.010)) };
        for tape in [tape, other] {
            let dip = tower.length("dip", feet(5.0).value, Spread::Standard(0.002));
            let by = tower.case.reference("dip");
            tower.case.level_is(by, tower.level, &[dip, tape], &[]);
        }
        let solved = tower.solved();
        let water = 0.25 * 9.80665 * 1.524;
        let gravity = 0.0005 * 1000.0 * 1.524;
        (solved.shift.standard.value.powi(2) - water * water - gravity * gravity).sqrt() / 9806.65
    };
    // By hand: shared sqrt(10^2 + 2^2/2), separate sqrt((10^2 + 2^2)/2), in millimetres.
    near(two(true), (102.0_f64).sqrt() * 1e-3, 1e-7);
    near(two(false), (52.0_f64).sqrt() * 1e-3, 1e-7);
}

#[rstest]
fn the_density_shared_by_riser_and_level_counts_once() {
    let mut tower = Tower::real(Some(0.0));
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.riser(feet(20.0).value, Spread::Exact);
    tower.vented(0.0, Spread::Standard(5.0));
    let solved = tower.solved();
    let density = solved.budget.iter().find(|row| row.input == InputId(0)).unwrap();
    near(pressure_of(density.contribution).abs(), 0.25 * 9.80665 * feet(20.0).value, 1e-6);
    let (_, level) = solved.levels[0];
    // L = (r - r0)/k - H: the density acts on the whole 25 ft, 0.25/1000 of it; gravity likewise; 5 Pa of vent.
    let whole = feet(25.0).value;
    let parts = [0.25 / 1000.0 * whole, 0.0005 / 9.80665 * whole, 5.0 / 9806.65];
    let by_hand = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    near(level.standard.value, by_hand, 1e-8);
}

#[rstest]
// Two-sided 95 % points of Student's t: JCGM 100:2008, Table G.2, which prints two decimals.
#[case(1.0, 12.71)]
#[case(2.0, 4.30)]
#[case(3.0, 3.18)]
#[case(5.0, 2.57)]
#[case(7.0, 2.36)]
#[case(10.0, 2.23)]
#[case(20.0, 2.09)]
#[case(100.0, 1.984)]
#[case(f64::INFINITY, 1.960)]
#[case(5.99, 2.57)]
#[case(0.4, 12.71)]
fn coverage_factors_are_the_tables(#[case] freedom: f64, #[case] expected: f64) {
    near(coverage_95(freedom), expected, 0.0051);
}
