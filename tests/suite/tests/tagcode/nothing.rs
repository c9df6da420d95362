//! Pictures without a code: nothing is read where nothing is. Two hundred and more, of kinds that look like codes.

use camera::{Bare, Chance};
use proptest::prelude::*;
use rstest::rstest;
use tagcode::{Code, Effort, Gray, Strength, read};

use crate::view::{LINK, seen, texts};

/// Pictures of each kind.
const EACH: u64 = 26;

#[rstest]
fn nothing_is_read_where_nothing_is(
    #[values(
        Bare::Noise,
        Bare::Modules,
        Bare::Checkers,
        Bare::Bars,
        Bare::Rings,
        Bare::Marks,
        Bare::Cabinet,
        Bare::Clouds
    )]
    kind: Bare,
) {
    for beginning in 0..EACH {
        let reading = seen(&kind.picture(beginning), Effort::Photo);
        assert_eq!(texts(&reading), Vec::<&str>::new(), "beginning {beginning}");
        assert!(!reading.stopped);
    }
}

/// Each three squares that are put together cost time, and a texture can hold thousands.
#[rstest]
fn a_texture_full_of_squares_can_be_left_between_them(
    #[values(Effort::Frame, Effort::Photo)] effort: Effort,
) {
    let picture = Bare::Rings.picture(0);
    let stopped_at = |no: usize| {
        let mut asked = 0;
        let reading = read(&picture, effort, &mut || {
            asked += 1;
            asked != no
        });
        (asked, reading)
    };
    let (asked, whole) = stopped_at(0);
    assert!(asked > 2 * whole.attempts, "asked {asked} times in {} attempts", whole.attempts);
    for no in [asked / 4, asked / 2] {
        let (asked, reading) = stopped_at(no);
        assert_eq!((asked, reading.stopped, reading.codes), (no, true, vec![]), "a no asks no more");
    }
}

#[rstest]
#[case::no_pixels(0, 0)]
#[case::one_pixel(1, 1)]
#[case::one_row(5000, 1)]
#[case::one_column(1, 5000)]
#[case::smaller_than_any_code(20, 20)]
fn a_picture_of_nearly_nothing_is_looked_through(#[case] width: usize, #[case] height: usize) {
    for shade in [0, 255] {
        let picture = Gray::from_fn(width, height, |_, _| shade);
        assert_eq!(texts(&seen(&picture, Effort::Full)), Vec::<&str>::new());
    }
}

/// A code with a part of its modules, in chance places, turned over.
fn spoiled(percent: u32, chance: &mut Chance) -> Gray {
    let code = Code::of(LINK, Strength::Quarter).unwrap();
    let side = code.side();
    let dark: Vec<bool> = (0..side * side)
        .map(|at| code.dark(at % side, at / side) ^ (chance.bits() % 100 < percent))
        .collect();
    Gray::from_fn((side + 8) * 6, (side + 8) * 6, |x, y| {
        let inner = |at: usize| (at / 6).checked_sub(4).filter(|at| *at < side);
        let dark = inner(x).zip(inner(y)).is_some_and(|(x, y)| dark[y * side + x]);
        if dark { 0 } else { 255 }
    })
}

#[rstest]
#[case::little(1)]
#[case::some(4)]
#[case::much(9)]
#[case::more_than_half_survives(30)]
fn a_spoiled_code_says_its_own_text_or_nothing(#[case] percent: u32) {
    for beginning in 0..EACH / 2 {
        let picture = spoiled(percent, &mut Chance::from(beginning));
        for text in texts(&seen(&picture, Effort::Photo)) {
            assert_eq!(text, LINK, "{percent} % of the modules turned over, beginning {beginning}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn pixels_never_bring_it_down(width in 0usize..90, height in 0usize..90, beginning in any::<u64>(), levels in 1u32..256) {
        let mut chance = Chance::from(beginning);
        let shades = (0..width * height).map(|_| (chance.bits() % levels * 255 / levels) as u8).collect();
        let picture = Gray::new(width, height, shades).unwrap();
        let reading = seen(&picture, Effort::Photo);
        prop_assert!(reading.codes.is_empty(), "{:?}", reading);
    }
}
