//! The troubles of the field, each a few times: how many are read at least, and never another text.
//!
//! Thirty of each and the same beside readers that are not ours: `tests/long readers`.

use camera::{Kind, Light, Scene};
use rstest::rstest;
use tagcode::sheet::{Dpi, Mm, Plate, STOCKS};
use tagcode::{Effort, Gray};

use crate::view::{seen, texts};

/// Photographs of each kind and strength.
const EACH: u64 = 8;

/// How many of the eight are read: what the label's error correction or the light leaves is not all of them.
#[rstest]
#[case::blurred(Kind::Blur, 2.0, 8)]
#[case::much_blurred(Kind::Blur, 4.0, 7)]
#[case::moved(Kind::Motion, 10.0, 7)]
#[case::noisy(Kind::Noise, 45.0, 7)]
#[case::dusk(Kind::Dusk, 12.0, 7)]
#[case::glare(Kind::Glare, 1.1, 7)]
#[case::shadow(Kind::Shadow, 0.8, 6)]
#[case::three_pixels_a_module(Kind::LowResolution, 3.0, 8)]
#[case::two_pixels_a_module(Kind::LowResolution, 2.0, 7)]
#[case::a_twentieth_hidden(Kind::Hidden, 0.05, 4)]
#[case::a_tenth_hidden(Kind::Hidden, 0.10, 3)]
#[case::oblique(Kind::Oblique, 50.0, 8)]
#[case::packed(Kind::Packed, 20.0, 8)]
#[case::packed_very_hard(Kind::Packed, 5.0, 7)]
#[case::worn(Kind::Worn, 0.6, 7)]
#[case::inverted(Kind::Inverted, 1.0, 8)]
#[case::mirrored(Kind::Mirrored, 1.0, 8)]
fn a_troubled_label_is_read(#[case] kind: Kind, #[case] strength: f32, #[case] least: usize) {
    let mut read = 0;
    // Other chance than in the long comparison, which begins at 1.
    for beginning in 1_001..=1_000 + EACH {
        let shot = kind.shot(strength, beginning);
        let reading = seen(&shot.picture, Effort::Photo);
        for text in texts(&reading) {
            assert_eq!(text, shot.text, "{kind:?} {strength}, beginning {beginning}");
        }
        read += usize::from(!reading.codes.is_empty());
    }
    println!("{kind:?} {strength}: {read} of {EACH}");
    assert!(read >= least, "{kind:?} {strength}: {read} of {EACH} read, not {least}");
}

/// A label as its printer makes it, photographed: `modules` tells how many pixels one of its modules gets.
fn photographed(plate: &Plate, pixels: f32, scene: &Scene) -> Gray {
    let printed = plate.picture();
    let module = plate.module().0 as f32 * plate.dpi().dots() as f32 / 25.4;
    let short = scene.size.0.min(scene.size.1) as f32;
    let wide = printed.width() as f32 / module * pixels / short;
    Scene { wide, ..scene.clone() }.shot(Some(&printed))
}

#[rstest]
#[case::held_well(4.0, Scene { turns: [8.0, 10.0, 0.0], noise: 3.0, ..Scene::clear(640, 480) })]
#[case::turned_and_soft(5.0, Scene { turns: [160.0, 0.0, 25.0], soft: 1.0, noise: 5.0, ..Scene::clear(800, 600) })]
#[case::aside(5.0, Scene { turns: [-70.0, 40.0, 0.0], noise: 5.0, ..Scene::clear(960, 720) })]
#[case::dusk(4.0, Scene { light: Light::DUSK, noise: 4.0, ..Scene::clear(640, 480) })]
fn every_printed_label_is_read_off_a_photograph(
    #[case] pixels: f32,
    #[case] scene: Scene,
    #[values(200, 600)] dpi: u32,
) {
    for (at, stock) in STOCKS.iter().enumerate() {
        let tag = format!("LT-{}", 2041 + at);
        let link = tagcode::link("id.marrowby.example", &tag).unwrap();
        let plate = Plate::on(&link, &tag, stock, Dpi::of(dpi).unwrap(), Mm(90.0)).unwrap();
        let scene = Scene { beginning: at as u64 + 1, ..scene.clone() };
        let reading = seen(&photographed(&plate, pixels, &scene), Effort::Photo);
        assert_eq!(texts(&reading), [link.as_str()], "{} at {dpi}, {scene:?}", stock.key);
    }
}
