//! The error after a trim at other levels: what is shared is counted once.

use rstest::rstest;
use uom::si::f64::Length;

use super::tower::{Tower, density, gravity, metres, near, pascals};
use crate::after::Scale;
use crate::evidence::{Column, Input, LevelError, Spread};
use crate::ranging::{Action, Range};

/// Water known to 1 kg/m3 in 1000 (0.1 %) under 9.80665 m/s2, exactly.
fn tower() -> Tower {
    let mut tower = Tower::exact(None);
    let water = Input::density("density", density(1000.0), Spread::Standard(density(1.0)));
    let g = Input::acceleration("gravity", gravity(9.80665), Spread::Exact);
    tower.water = Column::new(tower.case.input(water), tower.case.input(g));
    tower
}

/// 0 to 10 m shown as conventional water.
fn scale() -> Scale {
    let range = Range::new(pascals(0.0), pascals(98_066.5), Action::Direct).unwrap();
    Scale { range, low: metres(0.0), high: metres(10.0) }
}

fn after(tower: &Tower, level: f64) -> LevelError {
    let shift = tower.solved().shift.value;
    let levels: [Length; 1] = [metres(level)];
    let errors =
        tower.case.solve().unwrap().over_span(&tower.ask(), shift, &scale(), &levels).unwrap().unwrap();
    errors[0]
}

#[rstest]
// After an empty tank 0.1 % of density matters over the height above zero alone, whatever riser stands below:
// 2.808 m of it are 2.808 mm.
#[case::empty(0.0, 2.808, 0.002_808)]
#[case::at_zero(0.0, 0.0, 0.0)]
// After a dip at 6 m: over what the level is away from there, 4 m up and 6 m down.
#[case::above_the_dip(6.0, 10.0, 0.004)]
#[case::below_the_dip(6.0, 0.0, 0.006)]
#[case::at_the_dip(6.0, 6.0, 0.0)]
fn density_counts_over_what_lies_between(#[case] dip: f64, #[case] level: f64, #[case] standard: f64) {
    let mut tower = tower();
    tower.reads(119_562.0 + dip * 9_806.65, Spread::Exact);
    tower.dipped(dip, Spread::Exact);
    let error = after(&tower, level);
    near(error.value.value, 0.0, 1e-9);
    near(error.standard.value, standard, 1e-6);
}

#[test]
fn a_dip_is_off_by_as_much_at_every_level() {
    // 5 mm of dip, and 2 m away from it 2 mm of density: root(25 + 4) = 5.385 mm.
    let mut tower = tower();
    tower.reads(119_562.0 + 6.0 * 9_806.65, Spread::Exact);
    tower.dipped(6.0, Spread::Standard(0.005));
    near(after(&tower, 6.0).standard.value, 0.005, 1e-6);
    near(after(&tower, 8.0).standard.value, 0.005_385, 1e-6);
}

#[test]
fn what_was_keyed_in_counts_not_what_was_wanted() {
    // 49.033 Pa, 5 mm, more than the evidence wanted.
    let mut tower = tower();
    tower.reads(119_562.0, Spread::Exact);
    tower.dipped(0.0, Spread::Exact);
    let shift = tower.solved().shift.value + pascals(49.033_25);
    let errors = tower
        .case
        .solve()
        .unwrap()
        .over_span(&tower.ask(), shift, &scale(), &[metres(4.0)])
        .unwrap()
        .unwrap();
    near(errors[0].value.value, 0.005, 1e-9);
}

/// A range whose LRV, 1 m of water, stands for a level of 1 m: what is shown above zero is level all the same.
#[test]
fn a_range_that_begins_above_zero_changes_no_error() {
    let range = Range::new(pascals(9_806.65), pascals(98_066.5), Action::Direct).unwrap();
    let scale = Scale { range, low: metres(1.0), high: metres(10.0) };
    let mut tower = tower();
    tower.reads(119_562.0, Spread::Exact);
    tower.dipped(0.0, Spread::Exact);
    let shift = tower.solved().shift.value;
    let errors = tower
        .case
        .solve()
        .unwrap()
        .over_span(&tower.ask(), shift, &scale, &[metres(0.0), metres(4.0)])
        .unwrap()
        .unwrap();
    near(errors[0].value.value, 0.0, 1e-9);
    near(errors[1].value.value, 0.0, 1e-9);
    near(errors[1].standard.value, 0.004, 1e-6);
}

#[test]
fn nothing_is_said_where_nothing_is_determined() {
    let mut tower = tower();
    tower.reads(119_562.0, Spread::Exact);
    let errors =
        tower.case.solve().unwrap().over_span(&tower.ask(), pascals(0.0), &scale(), &[metres(4.0)]).unwrap();
    assert_eq!(errors, None);
}
