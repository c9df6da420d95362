//! Ranges, currents, bands.

use domain::head::mounting::{Installed, Mounting};
use domain::head::{Gradient, water_density};
use domain::quantity::{ReadingUnit, read_density};
use domain::ranging::{
    Action, Band, Judged, Range, Sensor, Way, current_at, fraction_at, ways, zero_wording,
};
use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::electric_current::milliampere;
use uom::si::f64::{
    Acceleration, ElectricCurrent, Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature,
};
use uom::si::length::{foot, inch, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::ratio::{percent, ratio};
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::facts::{Fact, group};
use crate::mounting::{liquid, textbook};

const FACTS: &str = include_str!("../../reference/ranging.json");

fn psi(value: f64) -> Pressure {
    ReadingUnit::parse("psi").unwrap().pressure(value, Gradient::CONVENTIONAL_WATER)
}

fn shown(pressure: Pressure, unit: &str) -> f64 {
    ReadingUnit::parse(unit).unwrap().reading(pressure, Gradient::CONVENTIONAL_WATER)
}

/// A liquid by its weight, in vacuum at standard gravity: what the published examples reckon with.
fn gradient(density: &str) -> Gradient {
    let standard = Acceleration::new::<meter_per_second_squared>(9.80665);
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    Gradient::new(read_density(density).unwrap().value, none, standard).unwrap()
}

fn tank(density: &str, riser: Length, span: Length) -> Installed {
    textbook(Mounting::open(riser), density, span)
}

fn raw(tank: &Installed) -> Range {
    let [_, raw] = ways(tank, Action::Direct, Pressure::new::<pascal>(0.0)).unwrap();
    assert_eq!(raw.way, Way::Raw);
    raw.range
}

fn current(percents: f64) -> f64 {
    current_at(Ratio::new::<percent>(percents), Action::Direct).get::<milliampere>()
}

fn milliamperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<milliampere>(value)
}

#[test]
fn currents_of_published_examples() {
    let facts = group(FACTS, "current", 9);
    let direct = |low, high| Range::new(psi(low), psi(high), Action::Direct).unwrap();
    let [percent_1, percent_2, gauge, back, ph, flow, ph_back, reverse, open] = facts.as_slice() else {
        panic!()
    };
    for fact in [percent_1, percent_2] {
        fact.hold("I", "mA", current(fact.input("pct")));
    }
    let range = direct(gauge.input("LRV"), gauge.input("URV"));
    gauge.hold("I", "mA", range.current(psi(gauge.input("p"))).get::<milliampere>());
    let range = direct(back.input("LRV"), back.input("URV"));
    back.hold("p", "psi", shown(range.value(milliamperes(back.input("I"))), "psi"));
    // 3 to 11 pH, 0 to 1400 L/min and 4 to 10 pH: ranges of other quantities, by their fraction.
    ph.hold("I", "mA", current((ph.input("pH") - 3.0) / 8.0 * 100.0));
    flow.hold("I", "mA", current(flow.input("q") / 1400.0 * 100.0));
    let part = fraction_at(milliamperes(ph_back.input("I")), Action::Direct).get::<ratio>();
    ph_back.hold("pH", "pH", 4.0 + 6.0 * part);
    // 15 psi at 4 mA, 3 psi at 20 mA: written as swapped ends, and as a reversed signal.
    let value = psi(reverse.input("p"));
    for range in [direct(15.0, 3.0), Range::new(psi(3.0), psi(15.0), Action::Reverse).unwrap()] {
        reverse.hold("I", "mA", range.current(value).get::<milliampere>());
    }
    open.hold("pct", "%", fraction_at(milliamperes(open.input("I")), Action::Direct).get::<percent>());
}

#[test]
fn signal_bands() {
    for fact in group(FACTS, "band", 7) {
        let band = Band::of(milliamperes(fact.input("I")));
        let expected = match fact.expected_text("class") {
            "failure low" => Band::FailureLow,
            "undefined gap below range" => Band::GapLow,
            "measuring (under-range)" => Band::UnderRange,
            "measuring (in range)" => Band::InRange,
            "measuring (over-range)" => Band::OverRange,
            "undefined gap above range" => Band::GapHigh,
            "failure high" => Band::FailureHigh,
            other => panic!("{other}"),
        };
        assert_eq!(band, expected, "{}", fact.about());
        assert_eq!(band.measures(), fact.expected_text("class").starts_with("measuring"));
    }
}

#[test]
fn open_vessels() {
    let facts = group(FACTS, "open", 4);
    let [oil, heptane, plain, blog] = facts.as_slice() else { panic!() };
    let pressed =
        gradient(&format!("{} lb/ft3", oil.input("gamma"))).pressure(Length::new::<foot>(oil.input("h")));
    oil.hold("p", "lb/ft2", shown(pressed, "psi") * 144.0);
    oil.hold("p", "psi", shown(pressed, "psi"));
    oil.hold("p", "inH2O", shown(pressed, "inH2O"));

    let zero = Length::new::<meter>(0.0);
    let vessel = tank(&sg(heptane), zero, Length::new::<foot>(heptane.input("span")));
    let range = raw(&vessel);
    heptane.hold("URV", "inH2O", shown(range.urv(), "inH2O"));
    let at_level = vessel.pressure_at(Length::new::<foot>(heptane.input("level")));
    heptane.hold("mA_at_8ft", "mA", range.current(at_level).get::<milliampere>());
    let level = vessel.level_at(range.value(milliamperes(heptane.input("signal"))));
    heptane.hold("level_at_5.7mA", "ft", level.get::<foot>());

    let range = raw(&tank(&sg(plain), zero, Length::new::<inch>(plain.input("span"))));
    ends(plain, &range, "inH2O");

    let density = MassDensity::new::<kilogram_per_cubic_meter>(blog.input("rho"));
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    let g = Acceleration::new::<meter_per_second_squared>(blog.input("g"));
    let column = Gradient::new(density, none, g).unwrap().pressure(Length::new::<meter>(blog.input("h")));
    blog.hold("p", "Pa", column.get::<pascal>());
}

fn sg(fact: &Fact) -> String {
    format!("{} SG", fact.input("sg"))
}

fn ends(fact: &Fact, range: &Range, unit: &str) {
    fact.hold("LRV", unit, shown(range.lrv(), unit));
    fact.hold("URV", unit, shown(range.urv(), unit));
}

#[test]
fn a_transmitter_below_the_zero_of_an_ethanol_tank() {
    let facts = group(FACTS, "suppressed", 4);
    let ethanol = &facts[0];
    let vessel = tank(&sg(ethanol), Length::new::<foot>(ethanol.input("drop")), Length::new::<foot>(40.0));
    let levels: Vec<f64> = ethanol.text("level").split(',').map(|level| level.parse().unwrap()).collect();
    let felt: Vec<_> = levels.iter().map(|level| vessel.pressure_at(Length::new::<foot>(*level))).collect();
    let range = raw(&vessel);
    let all =
        |show: &dyn Fn(Pressure) -> f64| felt.iter().map(|pressure| show(*pressure)).collect::<Vec<_>>();
    ethanol.hold_all("p", "inH2O", &all(&|pressure| shown(pressure, "inH2O")));
    ethanol.hold_all("p", "psi", &all(&|pressure| shown(pressure, "psi")));
    ethanol.hold_all("mA", "mA", &all(&|pressure| range.current(pressure).get::<milliampere>()));
}

#[rstest]
#[case(1, Length::new::<foot>(6.0), Length::new::<foot>(40.0), "X")]
#[case(2, Length::new::<inch>(10.0), Length::new::<inch>(50.0), "drop")]
#[case(3, Length::new::<inch>(10.0), Length::new::<inch>(80.0), "drop")]
fn transmitters_below_the_zero(
    #[case] at: usize,
    #[case] riser: Length,
    #[case] span: Length,
    #[case] name: &str,
) {
    let facts = group(FACTS, "suppressed", 4);
    let fact = &facts[at];
    let same = [riser.get::<foot>(), riser.get::<inch>()]
        .iter()
        .any(|value| (value - fact.input(name)).abs() < 1e-9);
    assert!(same, "{}", fact.about());
    let range = raw(&tank(&sg(fact), riser, span));
    ends(fact, &range, "inH2O");
    assert!(zero_wording(range.lrv(), &Mounting::open(riser)).starts_with("positive LRV"));
}

#[test]
fn a_seal_filled_line_to_a_transmitter_above_the_tap() {
    let facts = group(FACTS, "elevated", 2);
    let seal = &facts[0];
    let rise = Length::new::<foot>(seal.input("elevation"));
    let fill = liquid(&format!("{} lb/ft3", seal.input("gamma_fill")));
    let vessel = textbook(
        Mounting::OneSeal { riser: -rise, tap: Length::default(), fill },
        &format!("{} lb/ft3", seal.input("gamma_process")),
        Length::new::<foot>(seal.input("span")),
    );
    let range = raw(&vessel);
    ends(seal, &range, "psi");
    seal.hold("LRV", "inH2O", shown(range.lrv(), "inH2O"));
    seal.hold("added_at_100", "psi", shown(range.span(), "psi"));
    assert!(zero_wording(range.lrv(), vessel.mounting()).starts_with("negative LRV"));
}

#[test]
fn a_dry_leg_to_a_transmitter_above_the_zero() {
    let facts = group(FACTS, "elevated", 2);
    let dry = &facts[1];
    let rise = Length::new::<millimeter>(dry.input("rise"));
    let range = raw(&tank(&sg(dry), -rise, Length::new::<millimeter>(dry.input("span"))));
    ends(dry, &range, "mmH2O");
    dry.hold("span", "mmH2O", shown(range.span(), "mmH2O"));
}

/// A sensor of so many psi that may be turned down twenty times.
fn sensor(url: f64, turndown: f64) -> Sensor {
    let (url, lrl) = (psi(url), Pressure::new::<pascal>(0.0));
    Sensor { lrl, url, min_span: url / turndown, max_working: url * 2.0, trim_limit: None }
}

#[test]
fn turndown_sets_the_smallest_span() {
    let facts = group(FACTS, "turndown", 2);
    let fact = &facts[0];
    let sensor = sensor(fact.input("URL"), fact.input("turndown"));
    fact.hold("min_span", "psi", shown(sensor.min_span, "psi"));
    let span_holds = |span: f64| {
        let range = Range::new(psi(0.0), psi(span), Action::Direct).unwrap();
        sensor.judge(&range, Some(psi(0.0)), None)[3].judged
    };
    assert_eq!((span_holds(15.0), span_holds(14.9)), (Judged::Holds, Judged::Broken));
}

#[test]
fn the_smallest_sensor_that_fits_a_tower() {
    let facts = group(FACTS, "turndown", 2);
    let fact = &facts[1];
    let water = water_density(
        ThermodynamicTemperature::new::<degree_celsius>(10.0),
        Pressure::new::<pascal>(101_325.0),
    );
    let density = format!("{:.4} kg/m3", water.unwrap().get::<kilogram_per_cubic_meter>());
    let tower =
        tank(&density, Length::new::<foot>(fact.input("riser")), Length::new::<foot>(fact.input("span")));
    let range = raw(&tower);
    fact.hold("URV", "psi", shown(range.urv(), "psi"));
    fact.hold("span", "psi", shown(range.span(), "psi"));
    // Trimmed or raw, the sensor feels the same: the judgement by totals picks the same sensor.
    let [trimmed, raw] = ways(&tower, Action::Direct, Pressure::new::<pascal>(0.0)).unwrap();
    for plan in [trimmed, raw] {
        let fits = |url: &f64| {
            let judgements = sensor(*url, 20.0).judge(&plan.range, Some(plan.offset), None);
            judgements.iter().all(|judgement| judgement.judged != Judged::Broken)
        };
        let offered: Vec<f64> = fact.text("URLs").split(',').map(|url| url.parse().unwrap()).collect();
        fact.hold("choice", "psi", *offered.iter().find(|url| fits(url)).unwrap());
    }
}
