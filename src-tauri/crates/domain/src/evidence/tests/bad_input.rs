//! What cannot be worked out says so and gives no number.

use rstest::rstest;

use super::tower::{FOOT, Tower, density, gravity, pascals};
use crate::evidence::{Ask, Carried, Column, EvidenceError, Input, InputId, Rule, Spread};

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

/// What stands in the case, and what a question is asked in, must be its own and of the right kind.
#[rstest]
#[case::no_density(|one, _| Column::new(one, one))]
#[case::no_gravity(|length, rho| Column::new(rho, length))]
fn a_question_in_what_is_no_liquid_is_refused(#[case] column: fn(InputId, InputId) -> Column) {
    let mut tower = dipped(1.0, Spread::Exact);
    let rho = tower.case.input(Input::density("oil", density(900.0), Spread::Exact));
    let length = tower.length("a length", 1.0, Spread::Exact);
    tower.water = column(length, rho);
    assert_eq!(tower.outcome(), Err(EvidenceError::Foreign));
}

#[rstest]
#[case::gas(|water: Column, length| water.against(length))]
#[case::scale(|water: Column, length| water.shown_by(length))]
#[case::strength(|water: Column, length| water.of_strength(length))]
fn what_stands_beside_a_liquid_must_be_of_its_kind(#[case] with: fn(Column, InputId) -> Column) {
    // Asked in it, or read under it.
    let mut tower = dipped(1.0, Spread::Exact);
    let length = tower.length("a length", 1.0, Spread::Exact);
    let column = with(tower.water, length);
    tower.water = column;
    assert_eq!(tower.outcome(), Err(EvidenceError::Foreign));
    let mut tower = dipped(1.0, Spread::Exact);
    let length = tower.length("a length", 1.0, Spread::Exact);
    let (water, level) = (tower.water, tower.level);
    tower.water = with(water, length);
    let shown = tower.pressure("display", 1.0, Spread::Exact);
    tower.reads_as(&[shown], level);
    tower.water = water;
    assert_eq!(tower.outcome(), Err(EvidenceError::WrongKind { label: "a length".to_owned() }));
}

#[rstest]
#[case::none(0.0)]
#[case::turned_round(-1.0)]
fn a_display_whose_unit_is_nothing_is_refused(#[case] scale: f64) {
    let mut tower = dipped(1.0, Spread::Exact);
    let scale = tower.case.input(Input::ratio("scale", scale, Spread::Exact));
    tower.water = tower.water.shown_by(scale);
    assert_eq!(tower.outcome(), Err(EvidenceError::NoHead));
}

#[rstest]
fn every_liquid_of_the_case_must_press_and_not_only_the_one_that_is_asked_in() {
    let mut tower = dipped(1.0, Spread::Exact);
    let (water, level) = (tower.water, tower.level);
    let nothing = tower.case.input(Input::density("nothing", density(0.0), Spread::Exact));
    tower.water = water.of_density(nothing);
    let shown = tower.pressure("display", 1.0, Spread::Exact);
    tower.reads_as(&[shown], level);
    tower.water = water;
    assert_eq!(tower.outcome(), Err(EvidenceError::NoHead));
}

#[rstest]
#[case::offset(|tower: &mut Tower, other: &mut Tower| {
    let shown = tower.pressure("vented", 0.0, Spread::Exact);
    let by = tower.case.reference("vented check");
    tower.case.vented(by, other.case.offset(Carried::Unknown), &[shown], &[]);
})]
#[case::level(|tower: &mut Tower, other: &mut Tower| {
    let dip = tower.length("dip", 1.0, Spread::Exact);
    let by = tower.case.reference("dip");
    tower.case.level_is(by, other.case.level(), &[dip], &[]);
})]
#[case::reference(|tower: &mut Tower, other: &mut Tower| {
    let dip = tower.length("dip", 1.0, Spread::Exact);
    other.case.reference("one");
    let by = other.case.reference("two");
    tower.case.level_is(by, tower.level, &[dip], &[]);
})]
fn what_another_case_names_is_refused(#[case] spoil: fn(&mut Tower, &mut Tower)) {
    // A level of the one is an offset of the other, or nothing at all.
    let (mut tower, mut other) = (dipped(1.0, Spread::Exact), Tower::real(None));
    spoil(&mut tower, &mut other);
    assert_eq!(tower.outcome(), Err(EvidenceError::Foreign));
}
