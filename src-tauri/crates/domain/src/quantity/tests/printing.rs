//! Printing, and reading back what was printed.
//!
//! One inch is 25.4 mm and one foot 0.3048 m exactly (international yard and pound agreement, 1959); the rest is
//! arithmetic.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::f64::Length;
use uom::si::length::{foot, inch, meter, millimeter};

use crate::quantity::{LengthStyle, LengthSystem, print_both, print_decimal, print_length, read_length};

#[rstest]
#[case::plain(271.5, 8, "22 ft 7 1/2 in")]
#[case::reduced(271.75, 8, "22 ft 7 3/4 in")]
#[case::sixteenth(271.0625, 16, "22 ft 7 1/16 in")]
// 11 31/32 is nearer to 12 than to 11 7/8: it must carry into the feet, never show 11 8/8 or 12.
#[case::carry_into_feet(275.968_75, 8, "23 ft 0 in")]
#[case::carry_into_inches(270.97, 8, "22 ft 7 in")]
#[case::carry_from_nothing(11.99, 8, "1 ft 0 in")]
#[case::inches_only(7.5, 8, "7 1/2 in")]
#[case::fraction_only(0.25, 8, "1/4 in")]
#[case::nothing(0.0, 8, "0 in")]
#[case::whole_feet(264.0, 8, "22 ft 0 in")]
#[case::negative(-42.0, 8, "-3 ft 6 in")]
#[case::no_negative_nothing(-0.01, 8, "0 in")]
fn prints_feet_and_inches(#[case] inches: f64, #[case] parts: u16, #[case] text: &str) {
    assert_eq!(print_length(Length::new::<inch>(inches), LengthStyle::FeetInches(parts)), text);
}

#[rstest]
#[case(LengthStyle::Feet(2), "22.63 ft")]
#[case(LengthStyle::Metres(3), "6.896 m")]
#[case(LengthStyle::Millimetres, "6896 mm")]
fn prints_decimals(#[case] style: LengthStyle, #[case] text: &str) {
    // 6.8962 / 0.3048 = 22.625 33
    assert_eq!(print_length(Length::new::<meter>(6.896_2), style), text);
}

/// More eighths than a double tells apart are not split into feet.
#[rstest]
#[case(2e15, true)]
#[case(f64::INFINITY, true)]
#[case(1e15, false)]
fn what_is_absurd_is_printed_in_inches_alone(#[case] inches: f64, #[case] alone: bool) {
    let text = print_length(Length::new::<inch>(inches), LengthStyle::FeetInches(8));
    assert!(text.ends_with(" in") && text.contains("ft") != alone, "{text}");
}

#[rstest]
#[case("ft", Some(LengthSystem::Feet))]
#[case("m", Some(LengthSystem::Metres))]
#[case("in", None)]
fn a_register_names_the_system_by_its_large_unit(#[case] word: &str, #[case] system: Option<LengthSystem>) {
    assert_eq!(LengthSystem::from_word(word), system);
}

#[test]
fn prints_both_systems() {
    let length = Length::new::<inch>(271.0);
    assert_eq!(print_both(length, LengthSystem::Feet), "22 ft 7 in = 6.883 m");
    assert_eq!(print_both(length, LengthSystem::Metres), "6.883 m = 22 ft 7 in");
}

#[rstest]
#[case(-0.004, 2, "0.00")]
#[case(-0.006, 2, "-0.01")]
#[case(12.0, 0, "12")]
fn prints_no_negative_nothing(#[case] value: f64, #[case] places: usize, #[case] text: &str) {
    assert_eq!(print_decimal(value, places), text);
}

proptest! {
    #[test]
    fn what_is_printed_reads_back(metres in -3000.0..3000.0_f64) {
        let length = Length::new::<meter>(metres);
        let eighth = Length::new::<inch>(1.0 / 8.0);
        for (style, step) in [
            (LengthStyle::FeetInches(8), eighth),
            (LengthStyle::FeetInches(16), eighth / 2.0),
            (LengthStyle::Feet(2), Length::new::<foot>(0.01)),
            (LengthStyle::Metres(3), Length::new::<millimeter>(1.0)),
            (LengthStyle::Millimetres, Length::new::<millimeter>(1.0)),
        ] {
            let text = print_length(length, style);
            let back = read_length(&text, LengthSystem::Feet).unwrap();
            prop_assert!((back.value - length).abs() <= step * 0.500_001, "{} for {:?}", text, length);
            // And a second time nothing moves: what was printed is what is printed.
            prop_assert_eq!(print_length(back.value, style), text);
        }
    }

    #[test]
    fn inches_stay_below_twelve(inches in -40_000.0..40_000.0_f64, parts in prop::sample::select(vec![2_u16, 4, 8, 16, 32])) {
        let text = print_length(Length::new::<inch>(inches), LengthStyle::FeetInches(parts));
        prop_assert!(read_length(&text, LengthSystem::Feet).is_ok(), "{}", text);
        let bad = format!("{parts}/{parts}");
        prop_assert!(!text.contains(&bad) && !text.contains(" 12 in"), "{}", text);
    }
}
