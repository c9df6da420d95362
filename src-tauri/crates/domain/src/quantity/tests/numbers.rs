//! Plain numbers, pressures, temperatures, densities, percentages.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::quantity::{
    Doubtful, EntryProblem, TemperatureScale, read_density, read_gas_density, read_number, read_percent,
    read_pressure, read_temperature,
};

#[rstest]
#[case("12.3", 12.3, 0.1)]
#[case("12,3", 12.3, 0.1)]
#[case("-0.450", -0.45, 0.001)]
#[case("\u{2212}17.42", -17.42, 0.01)]
#[case("+4", 4.0, 1.0)]
#[case("0,125", 0.125, 0.001)]
#[case("1,234.5", 1234.5, 0.1)]
#[case("1.234,5", 1234.5, 0.1)]
#[case("1,234,567", 1_234_567.0, 1.0)]
#[case("2.1e-4", 2.1e-4, 1e-5)]
#[case("2.1E-4", 2.1e-4, 1e-5)]
fn reads_numbers(#[case] text: &str, #[case] value: f64, #[case] resolution: f64) {
    let entry = read_number(text).unwrap();
    assert!((entry.value - value).abs() <= value.abs() * 1e-15, "{text}");
    assert!((entry.resolution - resolution).abs() <= resolution * 1e-12, "{text}");
}

#[test]
fn asks_a_doubtful_comma() {
    let problem = read_number("-1,234").unwrap_err();
    let ways: Vec<_> = problem.candidates().iter().map(|way| (way.text.as_str(), way.value)).collect();
    assert_eq!(ways, [("-1.234", -1.234), ("-1234", -1234.0)]);
    assert_eq!(problem.code(), "entry.doubtful_comma");
}

#[rstest]
#[case("12..3")]
#[case("1.2.3")]
#[case("12,34,5")]
#[case("0,123,456")]
#[case("12 3")]
#[case("12 ft")]
#[case("1e")]
#[case("1e999")]
#[case("NaN")]
#[case("inf")]
#[case("9999999999999")]
#[case("")]
#[case("-")]
#[case(".")]
fn refuses_what_is_no_number(#[case] text: &str) {
    let problem = read_number(text).unwrap_err();
    assert!(matches!(problem, EntryProblem::Refused(_)), "{text}");
}

#[test]
fn says_what_to_write() {
    let message = read_number("12..3").unwrap_err().to_string();
    let expected = "“12..3” is not a number. Write digits with one decimal point or one decimal comma, for example 12.3.";
    assert_eq!(message, expected);
}

#[rstest]
// 30 * 6894.757293168361 (a pound-force on a square inch, 1959 agreement and standard gravity)
#[case("30 psi", 206_842.718_795)]
#[case("30psig", 206_842.718_795)]
#[case("2.1 bar", 210_000.0)]
#[case("2,1 BAR", 210_000.0)]
#[case("250 kPa", 250_000.0)]
#[case("250 kpa", 250_000.0)]
#[case("-1 mbar", -100.0)]
#[case("0.85 kgf/cm2", 83_356.525)]
#[case("12 mH2O", 117_679.8)]
// 20 * 0.0254 * 999.016 * 9.80665
#[case("20 inH2O@60F", 4_976.876_2)]
#[case("0.1 MPa", 100_000.0)]
fn reads_pressures(#[case] text: &str, #[case] pascals: f64) {
    let entry = read_pressure(text).unwrap();
    assert!((entry.value.get::<pascal>() - pascals).abs() < 1e-3, "{text}: {:?}", entry.value);
}

#[rstest]
#[case::absolute("30 psia", "entry.absolute")]
#[case::absolute_in_words("2 bar abs", "entry.absolute")]
#[case::length("12 ft", "entry.length_for_pressure")]
#[case::millipascal("5 mPa", "entry.unknown_unit")]
#[case::unknown("3 atm", "entry.unknown_unit")]
#[case::beyond("200 MPa", "entry.beyond")]
#[case::bare("30", "entry.no_unit")]
#[case::comma("1,234 kPa", "entry.doubtful_comma")]
fn does_not_take_a_doubtful_pressure(#[case] text: &str, #[case] code: &str) {
    assert_eq!(read_pressure(text).unwrap_err().code(), code, "{text}");
}

#[rstest]
#[case("12 degC", 12.0, 1.0)]
#[case("12,5 °C", 12.5, 0.1)]
#[case("54 °F", 12.222_222, 1.0 / 1.8)]
#[case("54degF", 12.222_222, 1.0 / 1.8)]
#[case("285.15 K", 12.0, 0.01)]
#[case("-10 C", -10.0, 1.0)]
fn reads_temperatures(#[case] text: &str, #[case] celsius: f64, #[case] step: f64) {
    let entry = read_temperature(text, None).unwrap();
    assert!((entry.value.get::<degree_celsius>() - celsius).abs() < 1e-6, "{text}");
    assert!((entry.resolution.get::<kelvin>() - step).abs() < 1e-9, "{text}");
}

#[test]
fn a_bare_temperature_is_asked_unless_a_scale_is_given() {
    let asked = read_temperature("54", None).unwrap_err();
    let texts: Vec<_> = asked.candidates().iter().map(|way| way.label.as_str()).collect();
    assert_eq!(texts, ["54 degC = 129.2 degF", "54 degF = 12.2 degC"]);
    let taken = read_temperature("54", Some(TemperatureScale::Fahrenheit)).unwrap();
    assert_eq!(taken.scale, TemperatureScale::Fahrenheit);
    assert_eq!(taken.echo(), "12.2 degC");
    assert_eq!(read_temperature("-300 degC", None).unwrap_err().code(), "entry.beyond");
    assert_eq!(read_temperature("12 furlongs", None).unwrap_err().code(), "entry.unknown_unit");
}

#[rstest]
#[case("1180 kg/m3", 1180.0)]
#[case("1180 kg/m³", 1180.0)]
#[case("1.18 SG", 1180.0)]
#[case("1.18 g/cm3", 1180.0)]
// 1.18 * 999.016
#[case("1.18 SG 60/60", 1_178.838_88)]
// 62.4 * 0.45359237 / 0.3048^3
#[case("62.4 lb/ft3", 999.552_115)]
fn reads_densities(#[case] text: &str, #[case] expected: f64) {
    let entry = read_density(text).unwrap();
    assert!(
        (entry.value.get::<kilogram_per_cubic_meter>() - expected).abs() < 1e-5,
        "{text}: {:?}",
        entry.value
    );
    assert!(!entry.unit.definition().is_empty());
}

/// Two decimals written resolve a hundredth of the unit: of 1000 kg/m3, of 16.01846 kg/m3.
#[rstest]
#[case("1.18 SG", 10.0, "specific gravity against 1000 kg/m3")]
#[case("62.4 lb/ft3", 1.601_846, "pounds per cubic foot, 16.01846 kg/m3 each")]
#[case("1180 kg/m3", 1.0, "kilograms per cubic metre")]
#[case("1.2 g/cm3", 100.0, "grams per cubic centimetre, 1000 kg/m3 each")]
#[case("1.2 SG 60/60", 99.901_6, "specific gravity at 60 degF against water at 60 degF, 999.016 kg/m3")]
fn a_density_says_what_it_resolves_and_what_its_unit_means(
    #[case] text: &str,
    #[case] step: f64,
    #[case] means: &str,
) {
    let entry = read_density(text).unwrap();
    let found = entry.resolution.get::<kilogram_per_cubic_meter>();
    assert!((found - step).abs() < 1e-5, "{text}: {found}");
    assert_eq!(entry.unit.definition(), means);
}

/// 1.18 of water's thousand, and 1.18 times 16.01846.
#[test]
fn a_way_to_read_is_shown_in_the_plain_unit_too() {
    let labels = |problem: EntryProblem<_>| {
        problem.candidates().iter().map(|way| way.label.clone()).collect::<Vec<String>>()
    };
    let found = labels(read_density("1.18").unwrap_err());
    assert_eq!(found, ["1.18 kg/m3 = 1.2 kg/m3", "1.18 SG = 1180.0 kg/m3", "1.18 lb/ft3 = 18.9 kg/m3"]);
    let asked = read_pressure("30").unwrap_err();
    let found: Vec<&str> = asked.candidates().iter().map(|way| way.label.as_str()).collect();
    assert_eq!(found, ["30 psi = 206.84 kPa", "30 kPa = 30.00 kPa", "30 bar = 3000.00 kPa"]);
    assert_eq!(
        (asked.what(), asked.remedy()),
        ("No unit is written.".into(), "Choose what is meant.".into())
    );
    assert_eq!(asked.to_string(), "No unit is written. Which is meant?");
}

#[rstest]
#[case("0.5 psi", 689.475_73)]
#[case("2.10 bar", 1000.0)]
#[case("12 mH2O", 9806.65)]
fn a_pressure_says_what_its_last_digit_is(#[case] text: &str, #[case] step: f64) {
    let found = read_pressure(text).unwrap().resolution.get::<pascal>();
    assert!((found - step).abs() < 1e-4, "{text}: {found}");
}

#[rstest]
#[case("1.18", "entry.no_unit")]
#[case("0 kg/m3", "entry.beyond")]
#[case("-5 kg/m3", "entry.beyond")]
#[case("1,180 kg/m3", "entry.doubtful_comma")]
#[case("1.18 stone", "entry.unknown_unit")]
fn does_not_take_a_doubtful_density(#[case] text: &str, #[case] code: &str) {
    assert_eq!(read_density(text).unwrap_err().code(), code, "{text}");
}

/// Saturated steam at the air's pressure has 0.598 kg/m3 (IAPWS-IF97), less than any liquid.
#[rstest]
fn a_gas_is_lighter_than_any_liquid() {
    let steam = read_gas_density("0.598 kg/m3").unwrap().value.get::<kilogram_per_cubic_meter>();
    assert!((steam - 0.598).abs() < 1e-12);
    assert_eq!(read_density("0.598 kg/m3").unwrap_err().code(), "entry.beyond");
    assert_eq!(read_gas_density("0.598 SG").unwrap_err().code(), "entry.beyond");
}

#[test]
fn a_bare_density_that_reads_only_one_way_is_still_asked() {
    let Err(EntryProblem::Doubtful { why, candidates }) = read_density("0.5") else { panic!("asked") };
    assert_eq!(why, Doubtful::NoUnit);
    assert_eq!(candidates.iter().map(|way| way.text.as_str()).collect::<Vec<_>>(), ["0.5 SG", "0.5 lb/ft3"]);
}

#[test]
fn reads_percentages() {
    let entry = read_percent("0,05 %").unwrap();
    assert!((entry.value.get::<ratio>() - 0.0005).abs() < 1e-18);
    assert!((entry.resolution.get::<ratio>() - 0.0001).abs() < 1e-18);
    assert_eq!(read_percent("5 per\u{A0}cent").unwrap().value, read_percent("5 %").unwrap().value);
    assert_eq!(read_percent("0.5").unwrap_err().candidates()[0].text, "0.5 %");
    assert_eq!(read_percent("5 psi").unwrap_err().code(), "entry.unknown_unit");
    assert_eq!(read_percent("5000 %").unwrap_err().code(), "entry.beyond");
}

proptest! {
    #[test]
    fn numbers_read_back(value in -1e9..1e9_f64, places in 0_usize..6) {
        let text = format!("{value:.places$}");
        let entry = read_number(&text).unwrap();
        prop_assert_eq!(entry.value.to_bits() << 1, text.parse::<f64>().unwrap().to_bits() << 1);
        // The comma says the same, unless it could part thousands.
        if places != 3 && places > 0 {
            prop_assert_eq!(read_number(&text.replace('.', ",")).unwrap(), entry);
        }
    }

    #[test]
    fn any_text_is_read_asked_or_refused(text in "\\PC{0,20}") {
        if let Ok(entry) = read_number(&text) { prop_assert!(entry.value.is_finite()); }
        if let Ok(entry) = read_pressure(&text) { prop_assert!(entry.value.value.is_finite()); }
        if let Ok(entry) = read_temperature(&text, None) { prop_assert!(entry.value.value.is_finite()); }
        if let Ok(entry) = read_density(&text) { prop_assert!(entry.value.value > 0.0); }
        if let Ok(entry) = read_percent(&text) { prop_assert!(entry.value.value.is_finite()); }
    }
}
