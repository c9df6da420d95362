//! Pictures without a code: nothing is read where nothing is. Two hundred and more, of kinds that look like codes.

use kit::camera::{Chance, Scene};
use proptest::prelude::*;
use rstest::rstest;
use tagcode::{Code, Effort, Gray, Strength};

use crate::view::{LINK, seen, texts};

/// Pictures of each kind.
const EACH: u64 = 26;

fn noise(chance: &mut Chance) -> Gray {
    let shades: Vec<u8> = (0..320 * 240).map(|_| (chance.bits() >> 24) as u8).collect();
    Gray::new(320, 240, shades).unwrap()
}

/// Squares of random black and white: everything a code is made of, but its marks.
fn modules(chance: &mut Chance) -> Gray {
    let size = 3 + chance.bits() as usize % 9;
    let dark: Vec<bool> = (0..120 * 120).map(|_| chance.bits() & 1 == 1).collect();
    Gray::from_fn(320, 240, |x, y| if dark[y / size * 120 + x / size] { 20 } else { 230 })
}

fn checkers(chance: &mut Chance) -> Gray {
    let (across, down) = (2 + chance.bits() as usize % 30, 2 + chance.bits() as usize % 30);
    Gray::from_fn(320, 240, |x, y| if (x / across + y / down) % 2 == 0 { 30 } else { 220 })
}

fn bars(chance: &mut Chance) -> Gray {
    let mut row = Vec::new();
    while row.len() < 320 {
        let (wide, shade) = (1 + chance.bits() as usize % 5, if row.len() % 2 == 0 { 15 } else { 240 });
        row.extend(std::iter::repeat_n(shade, wide * 2));
    }
    Gray::from_fn(320, 240, |x, y| if (20..220).contains(&y) { row[x] } else { 240 })
}

/// Rings and squares within each other, as the marks in a code's corners, on dials, valves and vents.
fn rings(chance: &mut Chance) -> Gray {
    let places: Vec<(f32, f32, f32, bool)> = (0..12)
        .map(|_| {
            let (x, y) = (chance.between(20.0, 300.0), chance.between(20.0, 220.0));
            (x, y, chance.between(2.0, 6.0), chance.part() < 0.5)
        })
        .collect();
    Gray::from_fn(320, 240, |x, y| {
        for (mx, my, size, round) in &places {
            let (dx, dy) = ((x as f32 - mx) / size, (y as f32 - my) / size);
            let far = if *round { dx.hypot(dy) } else { dx.abs().max(dy.abs()) };
            if far < 1.5 || (2.5..3.5).contains(&far) {
                return 20;
            }
            if far < 4.5 {
                return 235;
            }
        }
        140
    })
}

/// The marks of a code in their places, and chance between them: what only error correction can refuse.
fn marks(chance: &mut Chance) -> Gray {
    let code = Code::of(LINK, Strength::Quarter).unwrap();
    let last = code.side() - 8;
    let marked = |x: usize, y: usize| x == 6 || y == 6 || (x < 8 || x >= last) && y < 8 || x < 8 && y >= last;
    let dark: Vec<bool> = (0..60 * 60).map(|_| chance.bits() & 1 == 1).collect();
    Gray::from_fn(328, 328, |x, y| {
        let inner = |at: usize| (at / 8).checked_sub(4).filter(|at| *at < code.side());
        let dark = inner(x)
            .zip(inner(y))
            .is_some_and(|(x, y)| if marked(x, y) { code.dark(x, y) } else { dark[y * 60 + x] });
        if dark { 0 } else { 255 }
    })
}

fn cabinet(chance: &mut Chance) -> Gray {
    Scene { beginning: u64::from(chance.bits()), noise: 4.0, ..Scene::clear(480, 360) }.shot(None)
}

/// Shades without an edge.
fn clouds(chance: &mut Chance) -> Gray {
    let waves: Vec<[f32; 3]> =
        (0..5).map(|_| [chance.part() * 0.09, chance.part() * 0.09, chance.part() * 6.0]).collect();
    Gray::from_fn(320, 240, |x, y| {
        let sum: f32 = waves.iter().map(|[a, b, c]| (x as f32 * a + y as f32 * b + c).sin()).sum();
        (128.0 + sum * 24.0) as u8
    })
}

#[rstest]
#[case::noise(noise)]
#[case::modules(modules)]
#[case::checkers(checkers)]
#[case::bars(bars)]
#[case::rings(rings)]
#[case::marks(marks)]
#[case::cabinet(cabinet)]
#[case::clouds(clouds)]
fn nothing_is_read_where_nothing_is(#[case] make: fn(&mut Chance) -> Gray) {
    for beginning in 0..EACH {
        let picture = make(&mut Chance::from(beginning));
        let reading = seen(&picture, Effort::Photo);
        assert_eq!(texts(&reading), Vec::<&str>::new(), "beginning {beginning}");
        assert!(!reading.stopped);
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
