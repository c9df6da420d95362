//! Units by their definitions.

use domain::head::Gradient;
use domain::quantity::{DensityEntry, ReadingUnit, read_density};
use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::{foot, inch};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use crate::facts::group;

const FACTS: &str = include_str!("../../reference/quantity.json");

fn one(unit: &str) -> f64 {
    ReadingUnit::parse(unit).unwrap().one(Gradient::CONVENTIONAL_WATER).get::<pascal>()
}

#[test]
fn units_are_what_they_are_defined_as() {
    let units = ["psi", "kgf/cm2", "mH2O", "inH2O"];
    for (fact, unit) in group(FACTS, "exact", 4).iter().zip(units) {
        fact.hold("p", "Pa", one(unit));
    }
}

#[test]
fn a_column_at_a_temperature_is_its_own_unit() {
    group(FACTS, "column_at_temperature", 1)[0].hold("p", "Pa", one("inH2O@68F"));
}

#[test]
fn ratios_between_units() {
    let pairs = [("psi", "inH2O@68F"), ("psi", "ftH2O"), ("ftH2O", "psi"), ("psi", "ftH2O@68F")];
    for (fact, (above, below)) in group(FACTS, "ratio", 4).iter().zip(pairs) {
        let ratio = one(above) / one(below);
        // This one allows less than half of the last of the seven decimals that it is printed with: rounded as it is.
        let printed = if above == "ftH2O" { (ratio * 1e7).round() / 1e7 } else { ratio };
        fact.hold("ratio", "1", printed);
    }
}

#[test]
fn columns_of_other_temperatures_differ_from_the_conventional_one() {
    for (fact, unit) in group(FACTS, "slip", 2).iter().zip(["inH2O@60F", "inH2O@68F"]) {
        fact.hold("ratio", "1", one(unit) / one("inH2O"));
    }
}

/// What the trade computes with in its head, and what a tool must not: 2.31 ft a psi, 0.433 psi a foot.
#[test]
fn rules_of_thumb_miss_the_definitions_by_the_published_ratio() {
    let facts = group(FACTS, "rule_of_thumb", 2);
    facts[0].hold("ratio", "1", 2.31 * one("ftH2O") / one("psi"));
    facts[1].hold("ratio", "1", 0.433 * one("psi") / one("ftH2O"));
}

#[rstest]
#[case(0, "psi", &["inH2O"])]
#[case(1, "Pa", &["psi", "kgf/cm2"])]
#[case(2, "ftH2O", &["psi"])]
#[case(3, "bar", &["mH2O"])]
#[case(4, "kPa", &["psi"])]
#[case(5, "kgf/cm2", &["bar"])]
fn conversions(#[case] at: usize, #[case] from: &str, #[case] to: &[&str]) {
    let facts = group(FACTS, "conversion", 6);
    let water = Gradient::CONVENTIONAL_WATER;
    let pressure = ReadingUnit::parse(from).unwrap().pressure(facts[at].input("p"), water);
    for unit in to {
        facts[at].hold("p", unit, ReadingUnit::parse(unit).unwrap().reading(pressure, water));
    }
}

#[test]
fn a_number_entered_in_the_wrong_unit_is_off_by_the_published_ratio() {
    for fact in group(FACTS, "telltale", 10) {
        let (meant, understood) = fact.text("slip").split_once(" entered as ").unwrap();
        fact.hold("ratio", "1", one(meant) / one(understood));
    }
}

/// Slips that are no unit of a display here: mercury for water, one liquid for another, an absolute pressure for a gauge
/// pressure.
#[test]
fn a_column_of_something_else_is_off_by_the_published_ratio() {
    let facts = group(FACTS, "telltale_of_a_liquid", 3);
    let standard = Acceleration::new::<meter_per_second_squared>(9.80665);
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    let liquid = |density: &str| Gradient::new(read_density(density).unwrap().value, none, standard).unwrap();
    // Mercury at 0 degC by convention.
    let mercury = liquid("13595.1 kg/m3").pressure(Length::new::<inch>(1.0)).get::<pascal>();
    facts[0].hold("ratio", "1", mercury / one("psi"));
    let of_a_foot = |gradient: Gradient| gradient.pressure(Length::new::<foot>(1.0)).get::<pascal>();
    facts[1].hold("ratio", "1", of_a_foot(liquid("0.8 SG")) / of_a_foot(liquid("1 SG")));
    let atmosphere = Pressure::new::<pascal>(facts[2].input("patm"));
    let feet = ReadingUnit::parse("ftH2O").unwrap().reading(atmosphere, Gradient::CONVENTIONAL_WATER);
    facts[2].hold("offset", "ftH2O", feet);
}

#[test]
fn densities_in_pounds_per_cubic_foot_agree_with_their_specific_gravity() {
    for fact in group(FACTS, "specific_gravity", 5) {
        let read = |text: String| -> DensityEntry { read_density(&text).unwrap() };
        let printed: f64 = match fact.about().rsplit(' ').next().unwrap() {
            "oil" => 60.5,
            "ethanol" => 49.4,
            "glycerin" => 78.6,
            "methanol" => 50.5,
            "toluene" => 54.1,
            other => panic!("{other}"),
        };
        fact.hold("gamma", "lb/ft3", printed);
        // The source's specific gravity is against water of 62.4 lb/ft3.
        let density = read(format!("{printed} lb/ft3")).value.get::<kilogram_per_cubic_meter>();
        let water = read("62.4 lb/ft3".to_owned()).value.get::<kilogram_per_cubic_meter>();
        fact.hold("sg_vs_62.4", "1", density / water);
    }
}
