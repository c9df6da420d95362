//! Codes as they are drawn: what goes in comes out, and a reader can be stopped.

use proptest::prelude::*;
use rstest::rstest;
use tagcode::{Code, DrawError, Effort, Gray, Strength, read};

use crate::view::{LINK, printed, seen, texts};

const STRENGTHS: [Strength; 4] = [Strength::Low, Strength::Medium, Strength::Quarter, Strength::High];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn what_is_drawn_is_read(text in "[ -~]{1,180}", strength in 0..4usize, pixels in 3usize..9) {
        let picture = Code::of(&text, STRENGTHS[strength]).unwrap().bitmap(pixels);
        let reading = seen(&picture, Effort::Photo);
        prop_assert_eq!(texts(&reading), [text.as_str()]);
    }
}

#[rstest]
#[case::umlauts("Füllstand Behälter 3 °C, Prüfstück")]
#[case::greek("στάθμη δεξαμενής 2041")]
#[case::kana("水位計 LT-2041")]
#[case::sign("LT-2041 ✔")]
#[case::digits("00412041003107")]
#[case::capitals("PUMP 7 SPARE")]
#[case::line_ends("LT-2041\r\nSedge Hill\n")]
fn texts_of_all_kinds_come_back_whole(#[case] text: &str) {
    for strength in STRENGTHS {
        let picture = Code::of(text, strength).unwrap().bitmap(6);
        assert_eq!(texts(&seen(&picture, Effort::Photo)), [text], "{strength:?}");
    }
}

#[test]
fn nothing_and_too_much_are_refused() {
    assert_eq!(Code::of("", Strength::Low), Err(DrawError::Empty));
    // ISO/IEC 18004, table 7: version 40 holds 2953 bytes at level L.
    assert!(Code::of(&"x".repeat(2953), Strength::Low).is_ok());
    assert_eq!(Code::of(&"x".repeat(2954), Strength::Low), Err(DrawError::TooLong));
}

#[test]
fn more_strength_never_makes_a_code_smaller() {
    let sides = STRENGTHS.map(|strength| Code::of(LINK, strength).unwrap().side());
    assert!(sides.is_sorted(), "{sides:?}");
    // ISO/IEC 18004, tables 1 and 7: 37 bytes fit version 3 (29 modules) at L and M, 4 (33) at Q, 5 (37) at H.
    assert_eq!(sides, [29, 29, 33, 37]);
}

/// The marks of a code and the white around it (ISO/IEC 18004, 6.3).
#[test]
fn a_code_has_its_three_marks_and_its_quiet_zone() {
    let code = Code::of(LINK, Strength::Quarter).unwrap();
    let last = code.side() - 7;
    for (left, top) in [(0, 0), (last, 0), (0, last)] {
        let row = |y: usize| {
            (0..7).map(|x| if code.dark(left + x, top + y) { '#' } else { '.' }).collect::<String>()
        };
        let mark: Vec<String> = (0..7).map(row).collect();
        assert_eq!(mark, ["#######", "#.....#", "#.###.#", "#.###.#", "#.###.#", "#.....#", "#######"]);
    }
    let picture = code.bitmap(5);
    let zone = |at: usize| at < 20 || at >= picture.width() - 20;
    for y in 0..picture.height() {
        for x in (0..picture.width()).filter(|x| zone(*x) || zone(y)) {
            assert_eq!(picture.pixels()[y * picture.width() + x], 255, "{x} {y}");
        }
    }
}

#[test]
fn a_reader_stops_when_told() {
    let nothing = Gray::from_fn(300, 300, |x, y| if (x / 7 + y / 7) % 2 == 0 { 0 } else { 255 });
    let whole = seen(&nothing, Effort::Full);
    assert!(!whole.stopped && whole.attempts > 10);
    for most in 0..4 {
        let mut asked = 0;
        let reading = read(&nothing, Effort::Full, &mut || {
            asked += 1;
            asked <= most
        });
        assert_eq!((reading.stopped, reading.attempts, asked), (true, most, most + 1));
    }
}

#[test]
fn stopping_after_something_was_read_keeps_it() {
    let mut asked = 0;
    let reading = read(&printed(LINK), Effort::Photo, &mut || {
        asked += 1;
        asked == 1
    });
    assert_eq!((texts(&reading), reading.stopped), (vec![LINK], false));
}

#[test]
fn more_effort_begins_with_what_less_does() {
    let nothing = Gray::from_fn(240, 240, |x, y| if (x / 9 + y / 9) % 2 == 0 { 40 } else { 200 });
    let attempts = [Effort::Frame, Effort::Photo, Effort::Full].map(|effort| seen(&nothing, effort).attempts);
    assert!(attempts.is_sorted_by(|less, more| less < more), "{attempts:?}");
    let readings = [Effort::Frame, Effort::Photo, Effort::Full].map(|effort| seen(&printed(LINK), effort));
    assert!(
        readings.iter().all(|reading| texts(reading) == [LINK] && reading.attempts == readings[0].attempts)
    );
}
