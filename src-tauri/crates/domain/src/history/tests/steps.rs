use proptest::prelude::*;
use uom::si::pressure::pascal;

use super::made::seen;
use crate::history::{Seen, look};

fn stepped(size: f64, at: usize, count: usize) -> Vec<Seen> {
    let visit = |place: usize| {
        let step = if place >= at { size } else { 0.0 };
        seen(place as f64, 5.0 * place as f64 + step, 10.0)
    };
    (0..count).map(visit).collect()
}

#[test]
fn a_plain_step_is_named_with_its_size() {
    let history = look(&stepped(-200.0, 3, 6));
    let [step] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
    assert_eq!(step.before_visit, 3);
    assert!((step.size.get::<pascal>() + 200.0).abs() < 1e-6);
    assert!(step.chance < 1e-6);
    let drift = history.drift.unwrap();
    assert!((drift.per_year.get::<pascal>() - 5.0).abs() < 1e-6, "the drift is what lies beside the step");
    // On the level after the step: 5 x 5 - 200.
    let last = drift.value_at(uom::si::f64::Time::new::<uom::si::time::day>(5.0 * 365.25));
    assert!((last.get::<pascal>() + 175.0).abs() < 1e-6);
}

#[test]
fn two_steps_are_told_apart() {
    let mut visits = stepped(400.0, 3, 9);
    for visit in visits.iter_mut().skip(6) {
        visit.offset -= uom::si::f64::Pressure::new::<pascal>(300.0);
    }
    let places: Vec<_> = look(&visits).steps.iter().map(|step| step.before_visit).collect();
    assert_eq!(places, [3, 6]);
}

#[test]
fn one_visit_on_a_side_is_a_bad_visit_as_well_as_a_step() {
    for at in [1, 5] {
        assert!(look(&stepped(-500.0, at, 6)).steps.is_empty());
    }
    assert!(look(&stepped(-500.0, 1, 3)).steps.is_empty());
}

#[test]
fn a_step_within_the_uncertainty_is_not_named() {
    assert!(look(&stepped(15.0, 3, 6)).steps.is_empty());
}

proptest! {
    #[test]
    fn a_straight_run_never_steps(slope in -500.0..500.0f64, start in -2e5..2e5f64, count in 2..12usize) {
        let visits: Vec<_> = (0..count).map(|n| seen(n as f64, start + slope * n as f64, 20.0)).collect();
        let history = look(&visits);
        prop_assert!(history.steps.is_empty());
        let drift = history.drift.unwrap();
        prop_assert!((drift.per_year.get::<pascal>() - slope).abs() < 1e-6);
    }
}
