//! Lengths: what is read, what is asked, what is refused.
//!
//! One inch is 25.4 mm and one foot 0.3048 m exactly (international yard and pound agreement, 1959); the rest is
//! arithmetic.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::length::{inch, meter, millimeter};

use crate::quantity::{Doubtful, EntryProblem, LengthSystem, read_length};

use LengthSystem::{Feet, Metres};

#[rstest]
// 22 * 0.3048 + 7.5 * 0.0254 = 6.7056 + 0.1905
#[case::marks("22' 7 1/2\"", 6.8961, Feet)]
#[case::marks_without_space("22'7 1/2\"", 6.8961, Feet)]
#[case::words("22 ft 7.5 in", 6.8961, Feet)]
#[case::tight("22ft 7 1/2in", 6.8961, Feet)]
#[case::long_words("22 feet and 7.5 inches", 6.8961, Feet)]
#[case::points_behind("22 ft. 7.5 in.", 6.8961, Feet)]
#[case::comma_between("22 ft, 7.5 in", 6.8961, Feet)]
#[case::capitals("22 FT 7.5 IN", 6.8961, Feet)]
#[case::primes("22\u{2032} 7 1/2\u{2033}", 6.8961, Feet)]
#[case::typographic("22\u{2019} 7 1/2\u{201D}", 6.8961, Feet)]
#[case::two_marks("22' 7 1/2''", 6.8961, Feet)]
#[case::one_letter_fraction("22' 7½\"", 6.8961, Feet)]
#[case::fraction_slash("22' 7 1\u{2044}2\"", 6.8961, Feet)]
#[case::no_break("22\u{A0}ft\u{202F}7.5\u{2009}in", 6.8961, Feet)]
#[case::comma_inches("22 ft 7,5 in", 6.8961, Feet)]
#[case::inches("7 1/2\"", 0.1905, Feet)]
#[case::part_of_an_inch("3/8\"", 0.009_525, Feet)]
#[case::decimal_feet("22.625 ft", 6.8961, Feet)]
#[case::no_inches("22 ft 0 in", 6.7056, Feet)]
#[case::metres("6.88 m", 6.88, Metres)]
#[case::comma_metres("6,88 m", 6.88, Metres)]
#[case::comma_metres_to_the_millimetre("0,234 m", 0.234, Metres)]
#[case::comma_behind_four("1234,567 mm", 1.234_567, Metres)]
#[case::millimetres("6880 mm", 6.88, Metres)]
#[case::centimetres("688 cm", 6.88, Metres)]
#[case::metres_and_centimetres("6 m 88 cm", 6.88, Metres)]
#[case::both_marks("1,234.5 mm", 1.2345, Metres)]
#[case::both_marks_the_other_way("1.234,5 mm", 1.2345, Metres)]
#[case::no_zero(".5 m", 0.5, Metres)]
#[case::minus("-3 ft 6 in", -1.0668, Feet)]
#[case::typographic_minus("\u{2212}6.88 m", -6.88, Metres)]
#[case::plus("+6.88 m", 6.88, Metres)]
fn reads_what_people_write(#[case] text: &str, #[case] metres: f64, #[case] system: LengthSystem) {
    for people in [Feet, Metres] {
        let entry = read_length(text, people).unwrap();
        assert!((entry.value.get::<meter>() - metres).abs() < 1e-12, "{text}: {:?}", entry.value);
        assert_eq!(entry.system, system, "{text}");
    }
}

#[rstest]
#[case::half_an_inch("22' 7 1/2\"", 12.7)]
#[case::an_eighth("22' 7 4/8\"", 3.175)]
#[case::tenths_of_an_inch("22 ft 7.5 in", 2.54)]
#[case::whole_inches("22 ft 7 in", 25.4)]
#[case::hundredths_of_a_foot("22.63 ft", 3.048)]
#[case::centimetres("6.88 m", 10.0)]
#[case::a_written_nought_counts("6.880 m", 1.0)]
#[case::millimetres("6880 mm", 1.0)]
fn says_what_the_writing_resolves(#[case] text: &str, #[case] millimetres: f64) {
    let entry = read_length(text, Feet).unwrap();
    assert!((entry.resolution.get::<millimeter>() - millimetres).abs() < 1e-9, "{text}");
}

#[rstest]
#[case::feet_site("22.7", Feet, &["22.7 ft", "22 ft 7 in", "22.7 m"])]
#[case::metre_site("22.7", Metres, &["22.7 m", "22.7 ft", "22 ft 7 in"])]
#[case::eleven_inches("22.11", Feet, &["22.11 ft", "22 ft 11 in", "22.11 m"])]
#[case::no_twelve_inches("22.12", Feet, &["22.12 ft", "22.12 m"])]
#[case::seven_tenths_written_long("22.70", Feet, &["22.70 ft", "22.70 m"])]
#[case::decimal_comma("6,88", Metres, &["6.88 m", "6.88 ft"])]
#[case::signed("-3.5", Feet, &["-3.5 ft", "-3 ft 5 in", "-3.5 m"])]
#[case::fraction("7 1/2", Feet, &["7 1/2 in", "7 1/2 ft"])]
#[case::two_numbers("22 7 1/2", Feet, &["22 ft 7 1/2 in"])]
#[case::millimetres_likely("6880", Metres, &["6880 m", "6880 cm", "6880 mm", "6880 ft", "6880 in"])]
#[case::few_for_inches("23", Feet, &["23 ft", "23 m"])]
#[case::enough_for_inches("24", Feet, &["24 ft", "24 in", "24 m"])]
#[case::part_of_an_inch_is_not_meant("24.5", Feet, &["24.5 ft", "24 ft 5 in", "24.5 m"])]
#[case::few_for_centimetres("99", Metres, &["99 m", "99 ft", "99 in"])]
#[case::enough_for_centimetres("100", Metres, &["100 m", "100 cm", "100 mm", "100 ft", "100 in"])]
#[case::three_decimals_are_no_inches("22.011", Feet, &["22.011 ft", "22.011 m"])]
#[case::less_than_a_foot("0.7", Feet, &["0.7 ft", "0 ft 7 in", "0.7 m"])]
#[case::grouped("1 234", Metres, &["1234 mm", "1234 m"])]
#[case::not_grouped("1 2.5", Metres, &["1 ft 2.5 in"])]
#[case::signed_and_grouped("-1 234", Metres, &["-1234 mm", "-1234 m"])]
fn asks_what_has_no_unit(#[case] text: &str, #[case] people: LengthSystem, #[case] texts: &[&str]) {
    asked(text, people, Doubtful::NoUnit, texts);
}

#[rstest]
#[case::metres("1,234 m", &["1.234 m", "1234 m"])]
#[case::millimetres("12,345 mm", &["12.345 mm", "12345 mm"])]
#[case::inches("5 ft 1,234 in", &["5 ft 1.234 in"])]
#[case::no_unit_either("1,234", &["1.234 m", "1.234 ft", "1234 m", "1234 cm", "1234 mm", "1234 ft", "1234 in"])]
fn asks_a_doubtful_comma(#[case] text: &str, #[case] texts: &[&str]) {
    asked(text, Metres, Doubtful::Comma, texts);
}

#[rstest]
#[case::inches_without_mark("22' 7", &["22 ft 7 in", "22.7 ft"])]
#[case::feet_without_mark("22 7\"", &["22 ft 7 in"])]
#[case::grouped("1 234 mm", &["1234 mm"])]
#[case::grouped_with_decimals("1 234.5 mm", &["1234.5 mm"])]
#[case::part_of_an_inch_without_mark("22' 7.5", &["22 ft 7.5 in"])]
#[case::centimetres_without_mark("6 m 88", &["6 m 88 cm", "6.88 m"])]
fn asks_a_missing_mark(#[case] text: &str, #[case] texts: &[&str]) {
    asked(text, Feet, Doubtful::NoUnitAfterFeet, texts);
}

#[test]
fn asks_a_dash_between_feet_and_inches() {
    asked("22'-7 1/2\"", Feet, Doubtful::Dash, &["22 ft 7 1/2 in"]);
}

fn asked(text: &str, people: LengthSystem, expected: Doubtful, texts: &[&str]) {
    let Err(EntryProblem::Doubtful { why, candidates }) = read_length(text, people) else {
        panic!("{text} should be asked");
    };
    assert_eq!(why, expected, "{text}");
    assert_eq!(candidates.iter().map(|way| way.text.as_str()).collect::<Vec<_>>(), texts, "{text}");
    for way in candidates {
        // Whatever is offered must read without another question, and as what was offered.
        let entry = read_length(&way.text, people).unwrap();
        assert_eq!(entry.value, way.value);
        assert_eq!(way.label, format!("{} = {}", way.text, entry.echo()));
    }
}

#[rstest]
#[case::two_points("12..3", "entry.not_a_number")]
#[case::two_points_with_unit("12..3 ft", "entry.not_a_number")]
#[case::two_decimals("1.2.3 m", "entry.not_a_number")]
#[case::ends_with_a_point("12. m", "entry.not_a_number")]
#[case::empty("", "entry.empty")]
#[case::spaces(" \u{A0} ", "entry.empty")]
#[case::words("about waist high", "entry.not_understood")]
#[case::unknown_unit("3 yards", "entry.unknown_unit")]
#[case::unit_alone("ft", "entry.not_understood")]
#[case::not_a_number("NaN", "entry.not_understood")]
#[case::infinite("inf m", "entry.not_understood")]
#[case::twelve_inches("22 ft 12 in", "entry.too_many_inches")]
#[case::twelve_and_a_half("22' 12 1/2\"", "entry.too_many_inches")]
#[case::a_hundred_centimetres("6 m 100 cm", "entry.too_many_millimetres")]
#[case::negative_inches("22 ft -7 in", "entry.negative_inches")]
#[case::negative_inches_with_marks("22' -7\"", "entry.negative_inches")]
#[case::part_of_a_foot_and_inches("22.5 ft 3 in", "entry.part_and_smaller")]
#[case::eight_eighths("7 8/8\"", "entry.bad_fraction")]
#[case::no_parts("7 1/0\"", "entry.bad_fraction")]
#[case::inches_first("7 in 22 ft", "entry.not_understood")]
#[case::mixed_systems("22 ft 7 cm", "entry.not_understood")]
#[case::three_parts("22 ft 7 in 3 mm", "entry.not_understood")]
#[case::beyond("10001 m", "entry.beyond")]
#[case::too_many_digits("1234567890123456 mm", "entry.too_many_digits")]
#[case::two_signs("--3 m", "entry.not_understood")]
#[case::emoji("🚰", "entry.not_understood")]
fn refuses_with_what_to_write(#[case] text: &str, #[case] code: &str) {
    let problem = read_length(text, Feet).unwrap_err();
    assert!(matches!(problem, EntryProblem::Refused(_)), "{text}: {problem}");
    assert_eq!(problem.code(), code, "{text}: {problem}");
    assert!(problem.what().ends_with('.') && problem.remedy().ends_with('.'));
}

proptest! {
    /// Nothing that can be typed brings it down, and nothing leaves it that is not a finite, sane length.
    #[test]
    fn any_text_is_read_asked_or_refused(text in "\\PC{0,24}") {
        for people in [Feet, Metres] {
            match read_length(&text, people) {
                Ok(entry) => prop_assert!(entry.value.get::<meter>().abs() <= 10_000.0),
                Err(problem) => prop_assert!(!problem.to_string().is_empty()),
            }
        }
    }

    #[test]
    fn length_like_text_is_read_asked_or_refused(text in "[-+0-9.,'\"/ ftinmc½]{0,16}") {
        match read_length(&text, Feet) {
            Ok(entry) => prop_assert!(entry.value.get::<meter>().abs() <= 10_000.0 && entry.resolution.get::<meter>() > 0.0),
            Err(problem) => {
                for way in problem.candidates() {
                    prop_assert_eq!(read_length(&way.text, Feet).map(|entry| entry.value).ok(), Some(way.value));
                }
            }
        }
    }

    #[test]
    fn feet_inches_and_eighths_add_up(feet in 0_u32..2000, inches in 0_u32..12, eighths in 1_u32..8) {
        let text = format!("{feet}' {inches} {eighths}/8\"");
        let entry = read_length(&text, Feet).unwrap();
        let expected = f64::from(feet * 96 + inches * 8 + eighths) / 8.0;
        prop_assert!((entry.value.get::<inch>() - expected).abs() < 1e-8);
    }
}
