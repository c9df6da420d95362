//! A label in front of a camera, in the states it is met in.

use camera::{Light, Scene};
use rstest::rstest;
use tagcode::Effort;

use crate::view::{LINK, OTHER, beside, middle, mirrored, negative, printed, seen, texts};

/// Every state is photographed so often, with other chance.
const BEGINNINGS: [u64; 3] = [1, 2, 3];

fn clear() -> Scene {
    Scene::clear(1600, 1200)
}

fn lit(best: f32, least: f32) -> Scene {
    Scene { light: Light { best, least, ..Light::DAY }, ..clear() }
}

fn in_light(light: Light) -> Scene {
    Scene { light, ..clear() }
}

#[rstest]
#[case::held_well(clear())]
#[case::small_in_the_view(Scene { wide: 0.25, at: (0.3, 0.7), ..clear() })]
#[case::turned_a_little(Scene { turns: [14.0, 0.0, 0.0], ..clear() })]
#[case::turned_an_eighth(Scene { turns: [45.0, 0.0, 0.0], ..clear() })]
#[case::turned_a_quarter(Scene { turns: [90.0, 0.0, 0.0], ..clear() })]
#[case::upside_down(Scene { turns: [180.0, 0.0, 0.0], ..clear() })]
#[case::from_the_side(Scene { turns: [5.0, 40.0, 0.0], ..clear() })]
#[case::from_below(Scene { turns: [-8.0, 0.0, 40.0], ..clear() })]
#[case::from_a_corner(Scene { turns: [20.0, 25.0, 25.0], ..clear() })]
#[case::out_of_focus(Scene { soft: 4.0, ..clear() })]
#[case::moved(Scene { moved: 8, ..clear() })]
#[case::noisy(Scene { noise: 28.0, ..clear() })]
#[case::low_contrast(lit(120.0, 95.0))]
#[case::overexposed(lit(255.0, 170.0))]
#[case::dusk(in_light(Light::DUSK))]
#[case::dusk_with_noise(Scene { noise: 6.0, ..in_light(Light::DUSK) })]
#[case::lamp_from_one_corner(in_light(Light { falls: 0.85, ..Light::DAY }))]
#[case::shadow_of_a_pipe(in_light(Light { shadow: 0.6, ..Light::DAY }))]
#[case::sun_in_the_plate(in_light(Light { glare: 0.5, ..Light::DAY }))]
fn a_label_is_read_from_a_photo(#[case] scene: Scene) {
    let label = printed(LINK);
    for beginning in BEGINNINGS {
        let scene = Scene { beginning, ..scene.clone() };
        let photo = scene.shot(Some(&label));
        let reading = seen(&photo, Effort::Photo);
        assert_eq!(texts(&reading), [LINK], "{scene:?}");
        // Some readers tell the middles of three corner squares only: a quarter of the label's width off at most.
        let (x, y) = middle(&reading, 0, &photo);
        assert!((x - scene.at.0).abs() < 0.11 && (y - scene.at.1).abs() < 0.11, "{x} {y} {scene:?}");
    }
}

#[rstest]
#[case::as_it_hangs([0.0; 3])]
#[case::askew([30.0, 15.0, 0.0])]
fn light_on_dark_and_mirrored_labels_are_read(#[case] turns: [f32; 3]) {
    let scene = Scene { turns, ..clear() };
    let label = printed(LINK);
    for label in [negative(&label), mirrored(&label)] {
        assert_eq!(texts(&seen(&scene.shot(Some(&label)), Effort::Photo)), [LINK], "{turns:?}");
    }
}

#[test]
fn the_hard_shadow_of_a_pipe_does_not_hide_a_label() {
    let photo = in_light(Light { shadow: 0.7, ..Light::DAY }).shot(Some(&printed(LINK)));
    assert_eq!(texts(&seen(&photo, Effort::Photo)), [LINK]);
}

#[test]
fn a_frame_is_enough_for_a_label_held_well() {
    let reading = seen(&clear().shot(Some(&printed(LINK))), Effort::Frame);
    assert_eq!(texts(&reading), [LINK]);
}

#[rstest]
#[case::close(0.7)]
#[case::at_arms_length(0.3)]
#[case::far(0.12)]
fn a_label_is_read_from_twelve_megapixels(#[case] wide: f32) {
    let photo = Scene { wide, turns: [7.0, 12.0, 0.0], soft: 1.0, ..Scene::clear(4000, 3000) }
        .shot(Some(&printed(LINK)));
    assert_eq!(texts(&seen(&photo, Effort::Photo)), [LINK]);
}

#[rstest]
#[case::straight([0.0; 3])]
#[case::askew([10.0, 20.0, 0.0])]
fn two_labels_in_view_are_both_told_each_in_its_place(#[case] turns: [f32; 3]) {
    let sheet = beside(&printed(LINK), &printed(OTHER));
    let photo = Scene { wide: 1.1, turns, ..clear() }.shot(Some(&sheet));
    let reading = seen(&photo, Effort::Photo);
    let mut told: Vec<(&str, bool)> = Vec::new();
    for (at, text) in texts(&reading).into_iter().enumerate() {
        told.push((text, middle(&reading, at, &photo).0 < 0.5));
    }
    told.sort_unstable();
    assert_eq!(told, [(LINK, true), (OTHER, false)]);
}

#[test]
fn the_same_label_twice_is_told_twice() {
    // Two labels with one text side by side are two things in view, and no code is told twice for one of them.
    let sheet = beside(&printed(LINK), &printed(LINK));
    let photo = Scene { wide: 1.1, ..clear() }.shot(Some(&sheet));
    assert_eq!(texts(&seen(&photo, Effort::Photo)), [LINK, LINK]);
}
