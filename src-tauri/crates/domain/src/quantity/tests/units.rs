//! Reading units.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::f64::Length;
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

use crate::head::Gradient;
use crate::quantity::{ColumnBasis, LengthUnit, PressureUnit, ReadingUnit};

const WATER: Gradient = Gradient::CONVENTIONAL_WATER;

fn all() -> Vec<ReadingUnit> {
    let lengths = [
        LengthUnit::Foot,
        LengthUnit::Inch,
        LengthUnit::Metre,
        LengthUnit::Centimetre,
        LengthUnit::Millimetre,
    ];
    let bases = [ColumnBasis::Conventional, ColumnBasis::At60F, ColumnBasis::At68F, ColumnBasis::NotKnown];
    let columns = lengths.iter().flat_map(|unit| bases.map(|basis| ReadingUnit::Water(*unit, basis)));
    let pressures = PressureUnit::ALL.into_iter().map(ReadingUnit::Pressure);
    lengths.into_iter().map(ReadingUnit::Liquid).chain(columns).chain(pressures).collect()
}

#[test]
fn every_unit_reads_back_from_its_symbol_and_has_its_own_definition() {
    let mut definitions = Vec::new();
    for unit in all() {
        assert_eq!(ReadingUnit::parse(&unit.symbol()), Ok(unit));
        definitions.push(unit.definition());
    }
    definitions.sort();
    let count = definitions.len();
    definitions.dedup();
    assert_eq!(definitions.len(), count);
}

#[rstest]
#[case("ftH2O", "feet of water by convention (also called 4 degC), 1000 kg/m3 and 9.80665 m/s2")]
#[case("ftH2O@60F", "feet of water at 60 degF, 999.016 kg/m3 and 9.80665 m/s2")]
#[case("inH2O@20C", "inches of water at 68 degF (20 degC), 998.207 kg/m3 and 9.80665 m/s2")]
#[case("inH2O@4C", "inches of water by convention (also called 4 degC), 1000 kg/m3 and 9.80665 m/s2")]
#[case("ft", "feet of the liquid in the tank, at its density and the gravity of today")]
#[case("kPa", "kPa, 1000 Pa each")]
#[case("Pa", "pascals")]
#[case("psi", "pounds-force per square inch, 6894.757 Pa each")]
#[case("kgf/cm2", "kilograms-force per square centimetre, 98066.5 Pa each")]
#[case(
    "mmH2O@?",
    "millimetres of water, temperature of the column not known; 1000 kg/m3 and 9.80665 m/s2 taken, up to 0.2 % off"
)]
fn says_what_a_unit_means(#[case] text: &str, #[case] definition: &str) {
    assert_eq!(ReadingUnit::parse(text).unwrap().definition(), definition);
}

#[rstest]
#[case("")]
#[case("mPa")]
#[case("furlong")]
#[case("ftH2O@99F")]
#[case("H2O")]
fn refuses_what_is_no_unit(#[case] text: &str) {
    assert!(ReadingUnit::parse(text).is_err(), "{text}");
}

#[rstest]
#[case("ft", true, Some(LengthUnit::Foot))]
#[case("inH2O@60F", false, Some(LengthUnit::Inch))]
#[case("bar", false, None)]
fn a_unit_tells_whether_it_is_a_length(
    #[case] text: &str,
    #[case] of_the_liquid: bool,
    #[case] length: Option<LengthUnit>,
) {
    let unit = ReadingUnit::parse(text).unwrap();
    assert_eq!((unit.is_liquid_length(), unit.length_unit()), (of_the_liquid, length));
}

#[test]
fn a_liquid_length_follows_the_liquid_and_a_water_column_does_not() {
    let brine = Gradient::new(
        uom::si::f64::MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(1180.0),
        uom::si::f64::MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(1.2),
        uom::si::f64::Acceleration::new::<uom::si::acceleration::meter_per_second_squared>(9.81),
    )
    .unwrap();
    let metres = ReadingUnit::Liquid(LengthUnit::Metre);
    let columns = ReadingUnit::Water(LengthUnit::Metre, ColumnBasis::Conventional);
    let two = Length::new::<meter>(2.0);
    assert!((metres.reading(brine.pressure(two), brine) - 2.0).abs() < 1e-12);
    // 2 * (1180 - 1.2) * 9.81 / 9806.65
    assert!((columns.reading(brine.pressure(two), brine) - 2.358_405_28).abs() < 1e-7);
    assert!((metres.pressure(2.0, brine) - brine.pressure(two)).abs().get::<pascal>() < 1e-9);
}

#[test]
fn only_an_unknown_column_is_unsure_of_itself() {
    for unit in all() {
        let relative = unit.relative_uncertainty().get::<ratio>();
        if let ReadingUnit::Water(_, ColumnBasis::NotKnown) = unit {
            // 0.2 % as a half-width, rectangular: 0.002 / 1.7320508
            assert!((relative - 0.001_154_700_5).abs() < 1e-10);
            assert!(unit.definition().contains("not known"));
        } else {
            assert!(relative.abs() < f64::MIN_POSITIVE, "{unit:?}");
        }
    }
}

#[test]
fn whichever_column_was_meant_lies_within_what_is_allowed_for_not_knowing() {
    let of = |basis| ReadingUnit::Water(LengthUnit::Foot, basis).one(WATER);
    let nominal = of(ColumnBasis::NotKnown);
    for basis in [ColumnBasis::Conventional, ColumnBasis::At60F, ColumnBasis::At68F] {
        assert!(((of(basis) - nominal) / nominal).get::<ratio>().abs() <= 0.002);
    }
}

#[test]
fn the_last_place_shown_is_a_few_millimetres_at_most_of_water() {
    for unit in all() {
        let step: f64 = format!("1e-{}", unit.places()).parse().unwrap();
        let height = WATER.length(unit.pressure(step, WATER)).get::<meter>();
        assert!((0.000_05..=0.003_1).contains(&height), "{unit:?} shows steps of {height} m");
    }
}

proptest! {
    #[test]
    fn readings_and_pressures_go_there_and_back(reading in -1e4..1e4_f64, at in 0..33_usize) {
        let unit = all()[at];
        let back = unit.reading(unit.pressure(reading, WATER), WATER);
        prop_assert!((back - reading).abs() <= 1e-12 * reading.abs().max(1.0));
    }
}
