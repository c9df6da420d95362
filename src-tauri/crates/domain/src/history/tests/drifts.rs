use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure, Time};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::time::day;

use super::made::seen;
use crate::head::Gradient;
use crate::history::{Fresh, at_common_density, look};

fn pa(pressure: Pressure) -> f64 {
    pressure.get::<pascal>()
}

#[test]
fn two_visits_make_a_line_as_sure_as_they_are() {
    // 60 Pa in 2 years; sqrt(30^2 + 40^2) / 2 = 25 Pa a year, no residual to look at.
    let history = look(&[seen(0.0, -1000.0, 30.0), seen(2.0, -940.0, 40.0)]);
    let drift = history.drift.unwrap();
    assert!((pa(drift.per_year) - 30.0).abs() < 1e-9);
    assert!((pa(drift.standard) - 25.0).abs() < 1e-9);
    assert!((pa(drift.expanded) - 1.959964 * 25.0).abs() < 1e-4);
    assert!(drift.freedom.is_infinite() && drift.scatter.is_none() && !drift.shows());
}

#[test]
fn a_doubtful_visit_pulls_less() {
    // Weights 1, 1, 1/4 on (0, 0), (1, 0), (2, 3). Mean time (0 + 1 + 1/2) / 2.25 = 2/3, mean value 1/3. Sums about
    // them: tt = 4/9 + 1/9 + 16/36 = 1; ty = (2/3)(1/3) - (1/3)(1/3) + (1/4)(4/3)(8/3) = 1. Slope 1, standard 1.
    let history = look(&[seen(0.0, 0.0, 1.0), seen(1.0, 0.0, 1.0), seen(2.0, 3.0, 2.0)]);
    let drift = history.drift.unwrap();
    assert!((pa(drift.per_year) - 1.0).abs() < 1e-9);
    // Residuals 1/3, -2/3, 4/3 over 1, 1, 2: 1/9 + 4/9 + 4/9 = 1 on 1 free: nothing unexplained.
    assert!((pa(drift.standard) - 1.0).abs() < 1e-9 && drift.freedom > 1e5);
}

#[test]
fn scatter_beyond_what_was_stated_widens() {
    // (0, 0), (1, 3), (2, 0), all give or take 1: slope 0, about 1; residuals -1, 2, -1: 6 on 1 free, so 5 of 6 parts
    // are unexplained: standard sqrt(6 / 2), 1 / (5/6)^2 = 1.44 degrees of freedom, truncated to 1, k = 12.706.
    let drift = look(&[seen(0.0, 0.0, 1.0), seen(1.0, 3.0, 1.0), seen(2.0, 0.0, 1.0)]).drift.unwrap();
    assert!(pa(drift.per_year).abs() < 1e-9);
    assert!((pa(drift.standard) - f64::sqrt(3.0)).abs() < 1e-9);
    assert!((drift.freedom - 1.44).abs() < 1e-9);
    assert!((drift.coverage - 12.706).abs() < 5e-4);
    assert!((pa(drift.scatter.unwrap()) - f64::sqrt(6.0)).abs() < 1e-9);
}

#[test]
fn the_line_tells_when_the_limit_is_reached() {
    let drift = look(&[seen(0.0, 0.0, 1.0), seen(1.0, 10.0, 1.0)]).drift.unwrap();
    let days = |held: f64, limit: f64| {
        let (held, limit) = (Pressure::new::<pascal>(held), Pressure::new::<pascal>(limit));
        drift.crosses(held, limit).map(|at| at.get::<day>())
    };
    // 10 Pa a year from 0: 50 Pa away from 0 after 5 years, from the 10 it was set to a year in after 6.
    assert!((days(0.0, 50.0).unwrap() - 5.0 * 365.25).abs() < 1e-6);
    assert!((days(10.0, 50.0).unwrap() - 6.0 * 365.25).abs() < 1e-6);
    assert_eq!(days(0.0, 0.0), None);
    assert!((pa(drift.value_at(Time::new::<day>(365.25 * 3.0))) - 30.0).abs() < 1e-9);
    let falling = look(&[seen(0.0, 0.0, 1.0), seen(1.0, -10.0, 1.0)]).drift.unwrap();
    let at = falling.crosses(Pressure::default(), Pressure::new::<pascal>(50.0)).unwrap();
    assert!((at.get::<day>() - 5.0 * 365.25).abs() < 1e-6);
}

/// 10 Pa a year, give or take sqrt(s^2 + s^2): with s = 1 that is 1.41 x 1.96 = 2.77 Pa, with 5 13.9 Pa.
#[test]
fn a_drift_shows_where_it_exceeds_its_doubt() {
    let shows = |to: f64, standard: f64| {
        look(&[seen(0.0, 0.0, standard), seen(1.0, to, standard)]).drift.unwrap().shows()
    };
    assert!(shows(10.0, 1.0) && shows(-10.0, 1.0));
    assert!(!shows(10.0, 5.0) && !shows(-10.0, 5.0) && !shows(0.0, 1.0));
}

/// A line that is level reaches no limit.
#[test]
fn a_level_line_never_crosses() {
    let level = look(&[seen(0.0, 0.0, 1.0), seen(1.0, 0.0, 1.0)]).drift.unwrap();
    assert_eq!(level.crosses(Pressure::default(), Pressure::new::<pascal>(50.0)), None);
    let rising = look(&[seen(0.0, 0.0, 1.0), seen(1.0, 10.0, 1.0)]).drift.unwrap();
    assert_eq!(rising.crosses(Pressure::default(), Pressure::new::<pascal>(-50.0)), None);
    // The line is laid from the first visit, whenever that was: 100 Pa in year 3 and 10 Pa a year from there are 50 Pa more in year 8.
    let later = look(&[seen(3.0, 100.0, 1.0), seen(4.0, 110.0, 1.0)]).drift.unwrap();
    let at = later.crosses(Pressure::new::<pascal>(100.0), Pressure::new::<pascal>(50.0)).unwrap();
    assert!((at.get::<day>() - 8.0 * 365.25).abs() < 1e-6);
    assert!((pa(later.value_at(Time::new::<day>(365.25 * 6.0))) - 130.0).abs() < 1e-9);
}

#[test]
fn another_serial_starts_it_anew_and_so_does_a_move() {
    let mut visits: Vec<_> =
        (0..5).map(|year| seen(f64::from(year), f64::from(year * year * 100), 1.0)).collect();
    for (visit, serial) in visits.iter_mut().zip(["A", "A", "", "a", "B"]) {
        visit.serial = serial.to_owned();
    }
    let history = look(&visits);
    assert_eq!((history.since, history.fresh), (4, Some(Fresh::UnitChanged)));
    assert!(history.drift.is_err());
    visits[4].serial.clear();
    visits[3].moved = true;
    let history = look(&visits);
    assert_eq!((history.since, history.fresh), (3, Some(Fresh::Moved)));
    // From 900 to 1600 in a year.
    assert!((pa(history.drift.unwrap().per_year) - 700.0).abs() < 1e-6);
}

/// What came before the first visit known is not known: it starts no history anew.
#[test]
fn a_move_before_the_first_visit_starts_nothing_anew() {
    let mut visits = [seen(0.0, 0.0, 1.0), seen(1.0, 10.0, 1.0)];
    visits[0].moved = true;
    let history = look(&visits);
    assert_eq!((history.since, history.fresh), (0, None));
}

/// -1, 2 and -1 beside the level line: the root of 6 on one free, whatever was stated of each.
#[test]
fn the_scatter_is_that_of_the_visits_in_their_own_unit() {
    let drift = look(&[seen(0.0, 0.0, 4.0), seen(1.0, 3.0, 4.0), seen(2.0, 0.0, 4.0)]).drift.unwrap();
    assert!((pa(drift.scatter.unwrap()) - f64::sqrt(6.0)).abs() < 1e-9, "{drift:?}");
}

#[test]
fn only_the_riser_follows_the_density() {
    let gradient = |density: f64| {
        let density = MassDensity::new::<kilogram_per_cubic_meter>(density);
        let g = Acceleration::new::<meter_per_second_squared>(10.0);
        Gradient::new(density, MassDensity::default(), g).unwrap()
    };
    // z = 40 Pa, H = 10 m: -(40 + 99 800) on the day, -(40 + 100 000) at the common density.
    let common = at_common_density(
        Pressure::new::<pascal>(-99_840.0),
        Length::new::<meter>(10.0),
        gradient(998.0),
        gradient(1000.0),
    );
    assert!((pa(common) + 100_040.0).abs() < 1e-6);
}
