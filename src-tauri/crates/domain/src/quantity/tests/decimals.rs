//! Decimal fractions as records keep them.
//!
//! One inch is 25.4 mm and one foot 0.3048 m exactly (international yard and pound agreement, 1959); the rest is
//! arithmetic.

use proptest::prelude::*;
use rstest::rstest;

use crate::quantity::Decimal;

#[rstest]
#[case::plain(6.8961, 68_961, -4, "6.8961")]
#[case::trailing_noughts_go(1200.0, 12, 2, "1200")]
#[case::rounded_to_a_millionth(1.000_000_4, 1, 0, "1")]
#[case::half_away_from_zero(0.000_000_5, 1, -6, "0.000001")]
#[case::negative(-0.05, -5, -2, "-0.05")]
#[case::nothing(0.0, 0, 0, "0")]
#[case::no_negative_nothing(-0.000_000_1, 0, 0, "0")]
fn rounds_and_prints(#[case] value: f64, #[case] mantissa: i64, #[case] exponent: i8, #[case] text: &str) {
    let decimal = Decimal::rounded(value).unwrap();
    assert_eq!(decimal, Decimal { mantissa, exponent });
    assert_eq!(decimal.to_string(), text);
}

#[test]
fn a_decimal_is_the_number_it_is_written_as() {
    let number = |mantissa, exponent| Decimal { mantissa, exponent }.to_f64();
    assert!((number(-5, -2) + 0.05).abs() < 1e-15 && (number(12, 2) - 1200.0).abs() < 1e-12);
}

#[rstest]
#[case(f64::NAN)]
#[case(f64::INFINITY)]
#[case(1e10)]
fn keeps_nothing_it_cannot_tell(#[case] value: f64) {
    assert_eq!(Decimal::rounded(value), None);
}

proptest! {
    #[test]
    fn equal_numbers_have_one_form(mantissa in -1_000_000_i64..1_000_000, noughts in 0_u32..4, exponent in -6_i8..3) {
        let longer = Decimal::trimmed(mantissa * 10_i64.pow(noughts), exponent - i8::try_from(noughts).unwrap());
        prop_assert_eq!(longer, Decimal::trimmed(mantissa, exponent));
    }

    #[test]
    fn rounding_twice_changes_nothing(value in -1e9..1e9_f64) {
        let once = Decimal::rounded(value).unwrap();
        // Half a millionth, and what a double of that size cannot tell.
        prop_assert!((once.to_f64() - value).abs() <= 0.5e-6 + value.abs() * 5e-16);
        prop_assert_eq!(Decimal::rounded(once.to_f64()), Some(once));
        prop_assert_eq!(once.to_string().parse::<f64>().unwrap().to_bits() << 1, once.to_f64().to_bits() << 1);
    }
}
