use proptest::prelude::*;
use rstest::rstest;
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

/// Beside a line through six years a step between the third and the fourth has 1.5 - 4.5^2 / 17.5 = 0.342857 of its own; so 10 Pa
/// a visit leave it uncertain by 10 / sqrt(0.342857) = 17.07825 Pa. Four times that is passed by chance 6.3342e-5 of the
/// time (normal table), anywhere among three places three times as often. Two visits before a move count in its place alone.
#[test]
fn a_step_tells_how_sure_it_is() {
    let mut visits = vec![seen(-2.0, 900.0, 10.0), seen(-1.0, 900.0, 10.0)];
    visits.extend(stepped(4.0 * 17.078_251, 3, 6));
    visits[2].moved = true;
    let history = look(&visits);
    let [step] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
    assert_eq!(step.before_visit, 5);
    assert!((step.size.get::<pascal>() - 68.313).abs() < 1e-3, "{step:?}");
    assert!((step.standard.get::<pascal>() - 17.078_25).abs() < 1e-4, "{step:?}");
    assert!((step.expanded.get::<pascal>() - 1.959_964 * 17.078_25).abs() < 1e-3, "{step:?}");
    assert!((step.chance / (3.0 * 6.3342e-5) - 1.0).abs() < 1e-3, "{step:?}");
}

#[test]
fn two_steps_are_told_apart() {
    let mut visits = stepped(400.0, 3, 9);
    for visit in visits.iter_mut().skip(6) {
        visit.offset -= uom::si::f64::Pressure::new::<pascal>(300.0);
    }
    let history = look(&visits);
    let places: Vec<_> = history.steps.iter().map(|step| step.before_visit).collect();
    assert_eq!(places, [3, 6]);
    let sizes: Vec<_> = history.steps.iter().map(|step| step.size.get::<pascal>().round()).collect();
    assert!(sizes.iter().zip([400.0, -300.0]).all(|(found, size)| (found - size).abs() < 0.5), "{sizes:?}");
    // Three visits before, between and after: what the first step is known within, the second is, far within either.
    let [one, two] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
    assert!((one.standard - two.standard).abs().get::<pascal>() < 1e-6, "{one:?} {two:?}");
    assert!(one.chance < 1e-6 && two.chance < 1e-6, "{one:?} {two:?}");
    // On the level after both: 5 x 8 + 400 - 300.
    let last = history.drift.unwrap().value_at(uom::si::f64::Time::new::<uom::si::time::day>(8.0 * 365.25));
    assert!((last.get::<pascal>() - 140.0).abs() < 1e-6, "{last:?}");
}

/// Up before one visit and down before the next are one bad visit and no two steps.
#[test]
fn one_visit_that_stands_out_is_no_step_there_and_back() {
    let mut visits = stepped(0.0, 0, 10);
    visits[5].offset += uom::si::f64::Pressure::new::<pascal>(500.0);
    assert!(look(&visits).steps.is_empty());
}

#[rstest]
// The pairs of a longer history are not gone through: one step at a time does not find these.
#[case::as_many_as_are_gone_through(40, &[19, 22])]
#[case::one_more(41, &[])]
fn a_step_there_and_back_is_found_together(#[case] count: usize, #[case] expected: &[usize]) {
    let mut visits = stepped(100.0, 19, count);
    for visit in visits.iter_mut().skip(22) {
        visit.offset -= uom::si::f64::Pressure::new::<pascal>(100.0);
    }
    let places: Vec<_> = look(&visits).steps.iter().map(|step| step.before_visit).collect();
    assert_eq!(places, expected);
}

/// Eight visits, 2 Pa above and below their lines in turn, where 2 Pa was stated: the step comes out as 56.8 Pa with a
/// standard uncertainty of 3.279 Pa by the scatter, which five visits beyond those that the lines take tell. Student's
/// distribution for five degrees of freedom (its closed form) has 1.17e-05 beyond that, and there are five places for a step.
#[test]
fn the_chance_of_a_step_rests_on_the_visits_that_told_the_scatter() {
    let mut visits = stepped(60.0, 4, 8);
    for (place, visit) in visits.iter_mut().enumerate() {
        let off = if place % 2 == 0 { -2.0 } else { 2.0 };
        visit.offset += uom::si::f64::Pressure::new::<pascal>(off);
        visit.standard = Some(uom::si::f64::Pressure::new::<pascal>(2.0));
    }
    let history = look(&visits);
    let [step] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
    assert!((step.size.get::<pascal>() - 56.8).abs() < 1e-6, "{step:?}");
    assert!((step.chance / 5.873157e-05 - 1.0).abs() < 1e-4, "{step:?}");
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
