//! Rates of flow.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::volume_rate::cubic_meter_per_second;

use crate::quantity::{Doubtful, EntryProblem, FlowUnit, read_flow};

/// Gallons by NIST SP 811: 231 cubic inches are 3.785411784 L, the imperial one is 4.54609 L.
#[rstest]
// 500 * 3.785411784e-3 / 60
#[case("500 US gpm", 0.031_545_098_2, FlowUnit::UsGallonPerMinute)]
// 500 * 4.54609e-3 / 60
#[case("500 imp gpm", 0.037_884_083_3, FlowUnit::ImperialGallonPerMinute)]
#[case("32 L/s", 0.032, FlowUnit::LitrePerSecond)]
#[case("1920 l/min", 0.032, FlowUnit::LitrePerMinute)]
#[case("115.2 m³/h", 0.032, FlowUnit::CubicMetrePerHour)]
#[case("0,5 m3/s", 0.5, FlowUnit::CubicMetrePerSecond)]
// 2.5 * 1000 / 86400
#[case("2.5 ML/d", 0.028_935_185_2, FlowUnit::MegalitrePerDay)]
// 1e6 * 3.785411784e-3 / 86400
#[case("1 US MGD", 0.043_812_636_4, FlowUnit::UsMegagallonPerDay)]
fn reads_rates(#[case] text: &str, #[case] expected: f64, #[case] unit: FlowUnit) {
    let entry = read_flow(text).unwrap();
    assert!((entry.value.get::<cubic_meter_per_second>() - expected).abs() < 1e-9, "{text}: {entry:?}");
    assert_eq!(entry.unit, unit);
}

#[rstest]
#[case("500", "entry.no_unit")]
#[case("500 gpm", "entry.which_gallon")]
#[case("1,500 L/s", "entry.doubtful_comma")]
#[case("-5 L/s", "entry.beyond")]
#[case("500 m3/s", "entry.beyond")]
#[case("5 furlongs", "entry.unknown_unit")]
#[case("", "entry.empty")]
fn does_not_take_a_doubtful_rate(#[case] text: &str, #[case] code: &str) {
    assert_eq!(read_flow(text).unwrap_err().code(), code, "{text}");
}

#[test]
fn a_gallon_of_either_kind_is_asked() {
    let Err(EntryProblem::Doubtful { why, candidates }) = read_flow("500 gpm") else { panic!("asked") };
    assert_eq!(why, Doubtful::Gallon);
    let ways: Vec<&str> = candidates.iter().map(|way| way.label.as_str()).collect();
    assert_eq!(ways, ["500 US gpm = 31.5 L/s", "500 Imp gpm = 37.9 L/s"]);
}

#[rstest]
#[case(FlowUnit::UsGallonPerMinute, 0.031_545_098_2, "500 US gpm")]
// 0.0313 x 60 / 3.785411784e-3 = 496.115
#[case(FlowUnit::UsGallonPerMinute, 0.031_3, "496 US gpm")]
#[case(FlowUnit::LitrePerSecond, 0.031_545_098_2, "31.5 L/s")]
#[case(FlowUnit::CubicMetrePerHour, 0.001_234, "4.44 m3/h")]
#[case(FlowUnit::CubicMetrePerSecond, 0.031_545, "0.032 m3/s")]
#[case(FlowUnit::LitrePerSecond, 0.04, "40 L/s")]
#[case(FlowUnit::CubicMetrePerHour, 0.0, "0 m3/h")]
fn prints_three_digits_at_most(#[case] unit: FlowUnit, #[case] rate: f64, #[case] text: &str) {
    let rate = uom::si::f64::VolumeRate::new::<cubic_meter_per_second>(rate);
    assert_eq!(unit.print(rate), text);
}

proptest! {
    #[test]
    fn a_unit_turns_there_and_back(number in 0.0..1e5_f64) {
        for unit in [FlowUnit::LitrePerSecond, FlowUnit::UsGallonPerMinute, FlowUnit::MegalitrePerDay] {
            prop_assert!((unit.number(unit.rate(number)) - number).abs() <= 1e-9 * number);
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,20}") {
        if let Ok(entry) = read_flow(&text) { prop_assert!(entry.value.value >= 0.0); }
    }
}
