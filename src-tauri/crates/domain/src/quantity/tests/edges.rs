//! The last that is taken and the first that is not, each by the limit its reader names.

use rstest::rstest;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::volume_rate::cubic_meter_per_second;

use crate::quantity::{
    Decimal, LengthSystem, read_density, read_flow, read_gas_density, read_length, read_number, read_percent,
    read_pressure, read_temperature,
};

/// What a reader makes of a text: a number in its plain unit, or the word for the problem.
type Reads = fn(&str) -> Result<f64, &'static str>;

fn number(text: &str) -> Result<f64, &'static str> {
    read_number(text).map(|entry| entry.value).map_err(|problem| problem.code())
}

fn per_cent(text: &str) -> Result<f64, &'static str> {
    read_percent(text).map(|entry| entry.value.get::<percent>()).map_err(|problem| problem.code())
}

fn pressure(text: &str) -> Result<f64, &'static str> {
    read_pressure(text).map(|entry| entry.value.get::<pascal>()).map_err(|problem| problem.code())
}

fn temperature(text: &str) -> Result<f64, &'static str> {
    let read = read_temperature(text, None);
    read.map(|entry| entry.value.get::<degree_celsius>()).map_err(|problem| problem.code())
}

fn flow(text: &str) -> Result<f64, &'static str> {
    read_flow(text).map(|entry| entry.value.get::<cubic_meter_per_second>()).map_err(|problem| problem.code())
}

fn density(text: &str) -> Result<f64, &'static str> {
    let read = read_density(text);
    read.map(|entry| entry.value.get::<kilogram_per_cubic_meter>()).map_err(|problem| problem.code())
}

fn gas(text: &str) -> Result<f64, &'static str> {
    let read = read_gas_density(text);
    read.map(|entry| entry.value.get::<kilogram_per_cubic_meter>()).map_err(|problem| problem.code())
}

fn length(text: &str) -> Result<f64, &'static str> {
    let read = read_length(text, LengthSystem::Feet);
    read.map(|entry| entry.value.get::<meter>()).map_err(|problem| problem.code())
}

#[rstest]
#[case::number(number, "1e12", 1e12)]
#[case::number_below(number, "-1e12", -1e12)]
#[case::small_power(number, "1e-30", 1e-30)]
#[case::large_power(number, "0e30", 0.0)]
#[case::fifteen_digits(number, "0.12345678901234", 0.123_456_789_012_34)]
#[case::percent(per_cent, "1000 %", 1000.0)]
#[case::percent_below(per_cent, "-1000 %", -1000.0)]
#[case::pressure(pressure, "100 MPa", 1e8)]
#[case::pressure_below(pressure, "-100 MPa", -1e8)]
#[case::coldest(temperature, "-100 degC", -100.0)]
#[case::coldest_in_fahrenheit(temperature, "-148 degF", -100.0)]
#[case::hottest(temperature, "400 degC", 400.0)]
#[case::hottest_in_fahrenheit(temperature, "752 degF", 400.0)]
#[case::no_flow(flow, "0 L/s", 0.0)]
#[case::flow(flow, "100 m3/s", 100.0)]
#[case::lightest(density, "1 kg/m3", 1.0)]
#[case::heaviest(density, "25000 kg/m3", 25_000.0)]
#[case::lightest_gas(gas, "0.01 kg/m3", 0.01)]
#[case::heaviest_gas(gas, "300 kg/m3", 300.0)]
#[case::length(length, "10000 m", 10_000.0)]
#[case::length_below(length, "-10000 m", -10_000.0)]
// 0.0254 m / 128
#[case::finest_fraction(length, "1/128\"", 0.000_198_437_5)]
fn the_last_is_taken(#[case] reads: Reads, #[case] text: &str, #[case] value: f64) {
    let found = reads(text).unwrap();
    assert!((found - value).abs() <= 1e-9 * value.abs(), "{text}: {found}");
}

#[rstest]
#[case::number(number, "1.1e12", "entry.beyond")]
#[case::small_power(number, "1e-31", "entry.not_a_number")]
#[case::large_power(number, "0e31", "entry.not_a_number")]
#[case::sixteen_digits(number, "0.123456789012345", "entry.too_many_digits")]
#[case::many_digits(number, "0.12345678901234567", "entry.too_many_digits")]
#[case::four_in_front_of_thousands(number, "1234,567,890", "entry.not_a_number")]
#[case::two_behind_thousands(number, "1,23,456", "entry.not_a_number")]
#[case::nought_in_front_of_thousands(number, "0,123,456", "entry.not_a_number")]
#[case::percent(per_cent, "1000.1 %", "entry.beyond")]
#[case::percent_below(per_cent, "-1000.1 %", "entry.beyond")]
#[case::pressure(pressure, "100.1 MPa", "entry.beyond")]
#[case::coldest(temperature, "-100.1 degC", "entry.beyond")]
#[case::hottest(temperature, "400.1 degC", "entry.beyond")]
#[case::flow(flow, "100.1 m3/s", "entry.beyond")]
#[case::lightest(density, "0.99 kg/m3", "entry.beyond")]
#[case::heaviest(density, "25001 kg/m3", "entry.beyond")]
#[case::lightest_gas(gas, "0.009 kg/m3", "entry.beyond")]
#[case::heaviest_gas(gas, "301 kg/m3", "entry.beyond")]
#[case::length(length, "10000.1 m", "entry.beyond")]
#[case::finest_fraction(length, "1/129\"", "entry.bad_fraction")]
#[case::two_dashes(length, "22'--7\"", "entry.not_understood")]
#[case::two_minuses(length, "22 ft - - 7 in", "entry.not_understood")]
#[case::minus_without_feet(length, "3 -7 in", "entry.not_understood")]
#[case::minus_behind_the_inches(length, "22 ft 7 in -3", "entry.not_understood")]
#[case::three_points_behind_feet(length, "22 ft... 7 in", "entry.not_a_number")]
#[case::groups_behind_a_point(length, "1.5 234 mm", "entry.not_understood")]
#[case::short_groups(length, "1 23 mm", "entry.not_understood")]
#[case::part_of_a_foot_and_a_number(length, "1.5 234", "entry.part_and_smaller")]
fn the_first_beyond_is_not(#[case] reads: Reads, #[case] text: &str, #[case] code: &str) {
    assert_eq!(reads(text), Err(code), "{text}");
}

/// 2^53 millionths are the last that a double tells apart: 9 007 199 254.740 992.
#[test]
fn a_decimal_keeps_as_much_as_a_double_tells_apart() {
    let last = Decimal::rounded(9_007_199_254.740_992).unwrap();
    assert_eq!(last.to_string(), "9007199254.740992");
    assert_eq!(Decimal::rounded(9_007_199_255.0), None);
    assert_eq!(Decimal::rounded(-9_007_199_255.0), None);
    // A power of ten that is full takes no further noughts.
    assert_eq!(Decimal::trimmed(100, 126), Decimal { mantissa: 10, exponent: 127 });
}
