//! From where a label says that it is read, it is: off a live frame, as the pages cut it out of the camera's picture.

use camera::{Chance, Light, Scene};
use rstest::rstest;
use tagcode::sheet::{Dpi, Mm, Plate};
use tagcode::{Effort, FRAME_SIDE, Gray};

use crate::view::{LINK, seen, texts};

/// The camera that pages ask for, and the angle over its width.
const CAMERA: (usize, usize) = (1280, 720);
const HALF_ANGLE: f64 = 32.5;

/// The middle square of what the camera sees of a label that many millimetres away.
fn seen_from(plate: &Plate, distance: f64, scene: &Scene) -> Gray {
    let printed = plate.picture();
    let label = plate.dpi().length(printed.width()).0;
    let shown = distance * 2.0 * HALF_ANGLE.to_radians().tan();
    let side = CAMERA.1 as f64;
    let wide = (label / shown * CAMERA.0 as f64 / side) as f32;
    Scene { size: (CAMERA.1, CAMERA.1), wide, ..scene.clone() }.shot(Some(&printed))
}

/// Made smaller as a canvas does it: between the four pixels about each place.
fn drawn(picture: &Gray, side: usize) -> Gray {
    let by = picture.width() as f32 / side as f32;
    Gray::from_fn(side, side, |x, y| {
        let (x, y) = ((x as f32 + 0.5) * by - 0.5, (y as f32 + 0.5) * by - 0.5);
        let (left, top) = (x.floor(), y.floor());
        let at = |dx: isize, dy: isize| f32::from(picture.at(left as isize + dx, top as isize + dy));
        let upper = at(0, 0) + (at(1, 0) - at(0, 0)) * (x - left);
        let lower = at(0, 1) + (at(1, 1) - at(0, 1)) * (x - left);
        (upper + (lower - upper) * (y - top)).round() as u8
    })
}

/// Photographs in each light, none held as the one before.
const SHOTS: u64 = 12;

#[rstest]
#[case::day(Light::DAY, 1.0)]
#[case::dusk(Light::DUSK, 1.0)]
#[case::from_a_fifth_farther(Light::DAY, 1.2)]
fn a_label_is_read_off_a_live_frame_from_where_it_says(#[case] light: Light, #[case] part: f64) {
    let place = (Mm(99.1), Mm(67.7));
    let plate = Plate::fit(LINK, "LT-2041", place, Dpi::of(600).unwrap(), Mm(300.0)).unwrap();
    for beginning in 1..=SHOTS {
        let chance = &mut Chance::from(beginning);
        let turns = [chance.between(-180.0, 180.0), chance.between(-15.0, 15.0), chance.between(-15.0, 15.0)];
        let at = (chance.between(0.45, 0.55), chance.between(0.45, 0.55));
        let scene = Scene { turns, at, light, noise: 3.0, beginning, ..Scene::clear(1, 1) };
        let frame = drawn(&seen_from(&plate, plate.reach().0 * part, &scene), FRAME_SIDE as usize);
        assert_eq!(texts(&seen(&frame, Effort::Frame)), [LINK], "{beginning}");
    }
}

/// 1280 pixels over 65 degrees, the middle 720 of them made 512: `2 * 0.63707 * 720 / 1280 = 0.71670` of the distance
/// across, and `512 / (0.71670 * 2.4) = 297.66` modules' widths away 2.4 pixels a module.
#[test]
fn the_reach_is_what_the_frame_has_pixels_for() {
    let plate = Plate::fit(LINK, "LT-2041", (Mm(99.1), Mm(67.7)), Dpi::of(600).unwrap(), Mm(300.0)).unwrap();
    assert!((plate.reach().0 / plate.module().0 - 297.66).abs() < 0.01);
}
