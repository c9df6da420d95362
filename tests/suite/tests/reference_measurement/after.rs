//! What is left over the span after a trim.

use std::convert::Infallible;

use domain::after::{Day, Scale, Seasons, Trimmed};
use domain::evidence::{Ask, Carried, Case, Column, Input, Reading, Rule, Spread};
use domain::head::{Gradient, water_density};
use domain::ranging::{Action, Range};
use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure, ThermodynamicTemperature};
use uom::si::length::{meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::facts::{Fact, group};

const FACTS: &str = include_str!("../../reference/after.json");
const STANDARD_GRAVITY: f64 = 9.806_65;

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

/// Water in vacuum at standard gravity over a riser, as the sizes in the trade are reckoned.
fn columns(riser: Length, at: ThermodynamicTemperature) -> Day {
    let water = water_density(at, Pressure::new::<pascal>(101_325.0)).unwrap();
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    let standard = Acceleration::new::<meter_per_second_squared>(STANDARD_GRAVITY);
    let gradient = Gradient::new(water, none, standard).unwrap();
    Day { temperature: at, head: gradient.pressure(riser), gradient }
}

/// A display whose unit is a metre of the water of the day of the trim.
fn of_that_day(day: &Day, span: Length) -> Scale {
    let range = Range::new(Pressure::default(), day.gradient.pressure(span), Action::Direct).unwrap();
    Scale { range, low: Length::default(), high: span }
}

fn days(fact: &Fact) -> (Day, Day) {
    let riser = metres(fact.input("riser"));
    (columns(riser, celsius(fact.input("from"))), columns(riser, celsius(fact.input("to"))))
}

#[rstest]
#[case(0)]
#[case(1)]
#[case(2)]
fn another_season_on_the_riser(#[case] at: usize) {
    let facts = group(FACTS, "season", 3);
    let (day, then) = days(&facts[at]);
    let scale = of_that_day(&day, metres(9.144));
    let error = Trimmed::true_at(Length::default(), day, &scale).error(&scale, Length::default(), &then);
    facts[at].hold("error", "mm", -error.get::<millimeter>());
}

#[test]
fn another_season_on_riser_and_tank() {
    let facts = group(FACTS, "season_full", 1);
    let fact = &facts[0];
    let (day, then) = days(fact);
    let span = metres(fact.input("span"));
    let scale = of_that_day(&day, span);
    let trimmed = Trimmed::true_at(Length::default(), day, &scale);
    fact.hold("all", "mm", -trimmed.error(&scale, span, &then).get::<millimeter>());
    // Trimmed empty on the other day, the riser is taken out at that day's density: only the tank is left.
    let empty = Trimmed::true_at(Length::default(), then, &scale);
    fact.hold("tank alone", "mm", -empty.error(&scale, span, &then).get::<millimeter>());
}

/// Water is densest at 4 degC: a site that goes from 0 to 10 degC has its worst inside, not at its ends.
#[test]
fn the_densest_water_is_not_missed() {
    let riser = metres(12.192);
    let at = |t| Ok::<_, Infallible>(columns(riser, t));
    let seasons = Seasons::between(celsius(0.0), celsius(8.0), at).unwrap();
    let day = columns(riser, celsius(0.0));
    let scale = of_that_day(&day, metres(9.144));
    let trimmed = Trimmed::true_at(Length::default(), day, &scale);
    let worst = seasons.worst(&trimmed, &scale, metres(9.144)).unwrap();
    // IAPWS-95 by iapws 1.5.5: 999.84309 at 0 and 999.97487 kg/m3 at 4 degC; 0.013180 % of 21.336 m.
    assert!((worst.error.get::<millimeter>() - 2.812).abs() < 0.005, "{worst:?}");
    assert!((worst.day.temperature.get::<degree_celsius>() - 4.0).abs() < 0.1);
}

/// The level's uncertainty after a trim with the vessel empty, from the density's alone.
#[test]
fn after_an_empty_vessel_only_the_height_above_zero_counts() {
    let facts = group(FACTS, "after_empty", 1);
    let fact = &facts[0];
    let (riser, level) = (fact.input("h0"), fact.input("h1") - fact.input("h0"));
    let relative = fact.input("rel_u_rho");
    let density = |value| MassDensity::new::<kilogram_per_cubic_meter>(value);
    let mut case = Case::new();
    let water = Input::density("density", density(1000.0), Spread::Standard(density(1000.0 * relative)));
    let gravity = Acceleration::new::<meter_per_second_squared>(STANDARD_GRAVITY);
    let gravity = Input::acceleration("gravity", gravity, Spread::Exact);
    let column = Column::new(case.input(water), case.input(gravity));
    let offset = case.offset(Carried::Unknown);
    let surface = case.level();
    let display = Pressure::new::<pascal>(1000.0 * STANDARD_GRAVITY * riser);
    let part = case.input(Input::pressure("display", display, Spread::Exact));
    case.reading(&Reading { offset, level: surface, column, parts: vec![part], elapsed: None, lag: None });
    let empty = case.input(Input::length("sill", Length::default(), Spread::Exact));
    let by = case.reference("tank known empty");
    case.level_is(by, surface, &[empty], &[]);
    let ask = Ask { offset, display, rule: Rule::TrueAtZero, target: Pressure::default(), column };
    let shift = case.reconcile(&ask).unwrap().determined().unwrap().shift.value;
    let span = Pressure::new::<pascal>(1000.0 * STANDARD_GRAVITY * 9.144);
    let range = Range::new(Pressure::default(), span, Action::Direct).unwrap();
    let scale = Scale { range, low: Length::default(), high: metres(9.144) };
    let errors = case.solve().unwrap().over_span(&ask, shift, &scale, &[metres(level)]).unwrap().unwrap();
    fact.hold("u_level_with_correlation", "m", errors[0].standard.get::<meter>());
    // Riser and tank stated as if their densities were two independent things give the entry's other number.
    let apart = relative * (fact.input("h0").powi(2) + fact.input("h1").powi(2)).sqrt();
    assert!(errors[0].standard.get::<meter>() < apart / 6.0);
}
