//! Does the stated 95 % interval of the drift hold the true drift, and is a step named where there is none?
//!
//! Histories are simulated: a truth that drifts, visits at uneven times, each with an error drawn from the
//! uncertainty it states. The simulator lays no line and knows no coverage factor.

// A panic in a test is its message, and what was counted is worth seeing when it passes, too.
#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

use domain::history::{History, Seen, look};
use rstest::rstest;
use suite::Chance;
use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;
use uom::si::time::day;

const HISTORIES: u32 = 2000;

/// How the histories are made.
#[derive(Clone, Copy)]
struct Made {
    visits: usize,
    /// What is drawn over what is stated.
    truth_over_stated: f64,
    /// A cause that all visits of a history share, as one tape or hatch height is.
    shared: f64,
    /// A step in the middle, in pascals.
    step: f64,
}

const HONEST: Made = Made { visits: 5, truth_over_stated: 1.0, shared: 0.0, step: 0.0 };

/// One history with its true drift in pascals a year.
fn history(made: Made, chance: &mut Chance) -> (f64, History) {
    let drift = chance.between(-300.0, 300.0);
    let start = chance.between(-120_000.0, -60_000.0) + chance.normal(made.shared);
    let mut years = 0.0;
    let visits: Vec<Seen> = (0..made.visits)
        .map(|place| {
            let standard = chance.between(20.0, 90.0);
            let step = if place >= made.visits / 2 { made.step } else { 0.0 };
            let truth = start + drift * years + step;
            let seen = Seen {
                at: Time::new::<day>(20_000.0 + 365.25 * years),
                offset: Pressure::new::<pascal>(truth + chance.normal(standard * made.truth_over_stated)),
                standard: Some(Pressure::new::<pascal>(standard.hypot(made.shared))),
                serial: "one and the same".into(),
                moved: false,
            };
            years += chance.between(0.3, 1.4);
            seen
        })
        .collect();
    (drift, look(&visits))
}

struct Counted {
    covered: f64,
    stepped: f64,
}

fn count(name: &str, made: Made, seed: u64) -> Counted {
    let mut chance = Chance::new(seed);
    let (mut covered, mut stepped) = (0, 0);
    for _ in 0..HISTORIES {
        let (truth, history) = history(made, &mut chance);
        let drift = history.drift.unwrap();
        let off = (drift.per_year.get::<pascal>() - truth).abs();
        covered += u32::from(off <= drift.expanded.get::<pascal>());
        stepped += u32::from(!history.steps.is_empty());
    }
    let percent = |count: u32| 100.0 * f64::from(count) / f64::from(HISTORIES);
    let counted = Counted { covered: percent(covered), stepped: percent(stepped) };
    println!(
        "{name}, {} visits: true drift within the stated interval in {:.1} %, a step named in {:.2} % of {HISTORIES}",
        made.visits, counted.covered, counted.stepped
    );
    counted
}

#[rstest]
#[case::two(2, 11)]
#[case::three(3, 12)]
#[case::four(4, 13)]
#[case::five(5, 14)]
#[case::eight(8, 15)]
#[case::twelve(12, 16)]
fn the_stated_interval_holds_the_true_drift(#[case] visits: usize, #[case] seed: u64) {
    let counted = count("honest histories", Made { visits, ..HONEST }, seed);
    // Above 95 % where few visits scatter more than stated by chance: the interval is widened then.
    assert!((94.0..=97.5).contains(&counted.covered), "{}", counted.covered);
    assert!(counted.stepped <= 1.0, "{}", counted.stepped);
}

#[rstest]
#[case::few(4, 21)]
#[case::some(6, 22)]
#[case::many(12, 23)]
fn visits_surer_of_themselves_than_they_should_be_are_partly_seen(#[case] visits: usize, #[case] seed: u64) {
    let made = Made { visits, truth_over_stated: 1.5, ..HONEST };
    let counted = count("half as much again as stated", made, seed);
    // No promise is made here: an uncertainty stated too small by a third cannot be seen from a few visits.
    assert!(counted.covered >= 86.0, "{}", counted.covered);
    assert!(counted.stepped <= 6.0, "{}", counted.stepped);
}

#[test]
fn what_all_visits_share_errs_on_the_safe_side() {
    let counted = count("a shared cause of 60 Pa", Made { shared: 60.0, ..HONEST }, 31);
    assert!(counted.covered >= 95.0 && counted.stepped <= 1.0);
}

/// The standard uncertainty is 70 Pa. That only one in a thousand honest histories may be told of a step costs sight of the
/// small ones: with eight visits, whose scatter must be learned from them, one of ten standard uncertainties is
/// named six times in ten.
#[rstest]
#[case::of_ten_standard_uncertainties(700.0, 58.0)]
#[case::of_fifteen(1050.0, 80.0)]
fn a_step_is_named(#[case] step: f64, #[case] least: f64) {
    let counted = count(&format!("a step of {step} Pa"), Made { visits: 8, step, ..HONEST }, 41);
    assert!(counted.stepped >= least, "{}", counted.stepped);
}

#[test]
fn an_interval_of_half_the_width_would_be_found_out() {
    let mut chance = Chance::new(14);
    let inside = (0..HISTORIES).filter(|_| {
        let (truth, history) = history(HONEST, &mut chance);
        let drift = history.drift.unwrap();
        (drift.per_year.get::<pascal>() - truth).abs() <= drift.expanded.get::<pascal>() / 2.0
    });
    let percent = 100.0 * f64::from(u32::try_from(inside.count()).unwrap()) / f64::from(HISTORIES);
    assert!(percent < 85.0, "{percent}");
}
