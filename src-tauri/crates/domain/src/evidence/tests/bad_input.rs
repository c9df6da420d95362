//! What cannot be worked out says so and gives no number.

use rstest::rstest;

use super::tower::{FOOT, Tower, density, gravity, pascals};
use crate::evidence::{Ask, Column, EvidenceError, Input, Rule, Spread};

fn dipped(value: f64, off: Spread<f64>) -> Tower {
    let mut tower = Tower::real(None);
    tower.reads(25.0 * FOOT, Spread::Standard(10.0));
    tower.dipped(value, off);
    tower
}

#[rstest]
#[case::not_a_number(f64::NAN)]
#[case::infinite(f64::INFINITY)]
fn a_value_that_is_no_number_is_named(#[case] value: f64) {
    let refused = dipped(value, Spread::Exact).outcome();
    assert_eq!(refused, Err(EvidenceError::NotANumber { label: "dip".to_owned() }));
}

#[rstest]
#[case::negative(Spread::Standard(-0.001))]
#[case::not_a_number(Spread::Rectangular(f64::NAN))]
#[case::infinite(Spread::Triangular(f64::INFINITY))]
#[case::no_freedom(Spread::Repeats { standard: 0.001, freedom: 0.0 })]
#[case::freedom_not_a_number(Spread::Repeats { standard: 0.001, freedom: f64::NAN })]
#[case::factor_zero(Spread::Expanded { half: 0.001, factor: 0.0 })]
#[case::factor_negative(Spread::Expanded { half: -0.001, factor: -2.0 })]
fn an_uncertainty_that_is_none_is_named(#[case] off: Spread<f64>) {
    let refused = dipped(1.0, off).outcome();
    assert_eq!(refused, Err(EvidenceError::BadUncertainty { label: "dip".to_owned() }));
}

#[rstest]
fn the_wrong_kind_of_quantity_is_named() {
    let mut tower = Tower::real(None);
    let length = tower.length("a length", 1.0, Spread::Exact);
    tower.reads_as(&[length], tower.level);
    assert_eq!(tower.outcome(), Err(EvidenceError::WrongKind { label: "a length".to_owned() }));
}

#[rstest]
fn parts_of_another_case_are_refused() {
    let mut other = Tower::real(None);
    let mut last = other.pressure("stray", 0.0, Spread::Exact);
    for _ in 0..9 {
        last = other.pressure("stray", 0.0, Spread::Exact);
    }
    let stray = other.case.level();
    let far = other.case.level();
    assert_ne!(stray, far);
    let mut tower = dipped(1.0, Spread::Exact);
    tower.reads_as(&[last], tower.level);
    assert_eq!(tower.outcome(), Err(EvidenceError::Foreign));
    let mut tower = dipped(1.0, Spread::Exact);
    tower.rule = Rule::TrueAtReference { level: far, shown: pascals(FOOT), length: super::tower::feet(1.0) };
    assert_eq!(tower.outcome(), Err(EvidenceError::Foreign));
}

#[rstest]
#[case::as_light_as_its_gas(1.2, 1.2, 9.8)]
#[case::no_gravity(1000.0, 1.2, 0.0)]
#[case::lighter_than_its_gas(0.9, 1.2, 9.8)]
fn a_liquid_that_does_not_press_is_refused(#[case] water: f64, #[case] air: f64, #[case] g: f64) {
    let mut tower = Tower::real(None);
    let water = tower.case.input(Input::density("water", density(water), Spread::Exact));
    let air = tower.case.input(Input::density("air", density(air), Spread::Exact));
    let g = tower.case.input(Input::acceleration("gravity", gravity(g), Spread::Exact));
    tower.water = Column::new(water, g).against(air);
    tower.reads(25.0 * FOOT, Spread::Standard(10.0));
    tower.dipped(1.0, Spread::Exact);
    assert_eq!(tower.outcome(), Err(EvidenceError::NoHead));
}

#[rstest]
#[case::display(|ask: &mut Ask| ask.display = pascals(f64::NAN))]
#[case::target(|ask: &mut Ask| ask.target = pascals(f64::INFINITY))]
fn a_question_that_is_no_number_is_refused(#[case] spoil: fn(&mut Ask)) {
    let tower = dipped(1.0, Spread::Exact);
    let mut ask = tower.ask();
    spoil(&mut ask);
    assert!(matches!(tower.case.reconcile(&ask), Err(EvidenceError::NotANumber { .. })));
}

#[rstest]
fn a_rule_without_a_length_unit_is_refused() {
    let mut tower = dipped(1.0, Spread::Exact);
    tower.true_at_reference(0.0);
    assert!(matches!(tower.outcome(), Err(EvidenceError::NotANumber { .. })));
}
