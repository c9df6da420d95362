//! How sure the shift is, by hand calculation.

use rstest::rstest;

use super::tower::{FOOT, Tower, density, feet, gravity, near};
use crate::evidence::{Amount, Carried, Column, Distribution, Input, InputId, Spread, coverage_95};

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
    let freedom = variance * variance / (1e4 / 4.0);
    near(solved.shift.freedom, freedom, 1e-3 * freedom);
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

#[rstest]
fn what_is_exact_has_no_uncertainty_and_assumes_nothing_that_counts() {
    let mut tower = Tower::exact(None);
    let record = tower.pressure("offset by the record", 0.0, Spread::Exact);
    tower.offset = tower.case.offset(Carried::OnRecord(record));
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.riser(feet(20.0).value, Spread::Exact);
    tower.vented(0.0, Spread::Exact);
    let solved = tower.solved();
    near(solved.shift.expanded.value, 0.0, 0.0);
    assert!(solved.shift.freedom.is_infinite() && solved.budget.is_empty());
    near(solved.total.unwrap().value.value, -20.0 * FOOT, 1e-6);
    // Without the vented check it leans on the record and on the sensor's own zero, which have no share of nothing.
    let mut tower = Tower::exact(None);
    let record = tower.pressure("offset by the record", 0.0, Spread::Exact);
    tower.offset = tower.case.offset(Carried::OnRecord(record));
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.riser(feet(20.0).value, Spread::Exact);
    tower.allow_zero(Spread::Exact);
    let assumptions = tower.solved().assumptions;
    assert_eq!(assumptions.len(), 2);
    for assumption in assumptions {
        near(assumption.share, 0.0, 0.0);
        near(assumption.sensitivity, -1.0, 1e-9);
    }
}

/// A metre of liquid that nothing else of the case is made of: 1000 kg/m3, known to 5, in which the shift is told as a height.
#[rstest]
fn a_height_owes_its_uncertainty_to_the_liquid_it_is_told_in() {
    let mut tower = Tower::exact(None);
    tower.reads(20.0 * FOOT, Spread::Exact);
    tower.dipped(0.0, Spread::Exact);
    let other = Input::density("liquid to tell in", density(1000.0), Spread::Standard(density(5.0)));
    tower.water = tower.water.of_density(tower.case.input(other));
    let solved = tower.solved();
    near(solved.height.value.value, -feet(20.0).value, 1e-9);
    // Half a per cent of 6.096 m.
    near(solved.height.standard.value, 0.030_48, 1e-6);
}

/// A level of 10 m known to 1 m, a density of 1000 kg/m3 known to 100, under 10 m/s2, and a pressure of 110 000 Pa exactly.
/// Level and density are known alike in parts of themselves and move alike: each by the root of 1.1.
#[rstest]
fn a_product_is_shared_out_where_it_stands_and_not_where_it_began() {
    let mut tower = Tower::exact(None);
    tower.reads(200_000.0, Spread::Exact);
    let rho = Input::density("density", density(1000.0), Spread::Standard(density(100.0)));
    let g = Input::acceleration("gravity", gravity(10.0), Spread::Exact);
    let column = Column::new(tower.case.input(rho), tower.case.input(g));
    tower.dipped(10.0, Spread::Standard(1.0));
    let pressure = tower.pressure("pressure", 110_000.0, Spread::Exact);
    let by = tower.case.reference("another sensor");
    tower.case.pressed(by, tower.level, column, &[pressure], &[]);
    near(tower.solved().levels[0].1.value.value, 10.488_088_5, 1e-6);
}

/// 1.5 m exactly beside 1.6 m known to a millimetre: an exact statement does not give way.
#[rstest]
fn an_exact_statement_holds_against_one_that_is_not() {
    let mut tower = Tower::exact(None);
    tower.reads(25.0 * FOOT, Spread::Exact);
    tower.dipped(1.5, Spread::Exact);
    tower.dipped(1.6, Spread::Standard(1e-3));
    near(tower.solved().levels[0].1.value.value, 1.5, 1e-8);
}

#[rstest]
fn gas_beside_the_liquid_takes_off_what_it_presses() {
    let mut tower = Tower::exact(Some(0.0));
    let gas = tower.case.input(Input::density("air", density(1.2), Spread::Standard(density(0.3))));
    tower.water = tower.water.against(gas);
    tower.vented(0.0, Spread::Exact);
    tower.riser(10.0, Spread::Exact);
    let solved = tower.solved();
    // 998.8 kg/m3 under 9.80665 m/s2.
    near(solved.per_metre.value, 9_794.882_02, 1e-6);
    near(solved.shift.value.value, -97_948.820_2, 1e-6);
    near(solved.shift.standard.value, 0.3 * 9.80665 * 10.0, 1e-6);
    near(solved.budget[0].sensitivity, 98.0665, 1e-6);
}
