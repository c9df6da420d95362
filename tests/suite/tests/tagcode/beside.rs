//! Two labels in view of a phone's live camera: both are read, or the one that is not is told.

use camera::Scene;
use rstest::rstest;
use tagcode::{Code, Effort, Gray, Strength, read};

use crate::view::{LINK, OTHER, seen, texts};

/// A label at so many pixels a module.
fn plate(text: &str, pixels: usize) -> Gray {
    Code::of(text, Strength::Quarter).unwrap().bitmap(pixels)
}

/// A frame of the camera that two labels on the cabinet fill from side to side.
fn frame(left: &Gray, right: &Gray, scene: &Scene) -> Gray {
    let (gap, height) = (20, left.height().max(right.height()));
    let at = |label: &Gray, x: usize, y: usize| {
        (x < label.width() && y < label.height()).then(|| label.at(x as isize, y as isize))
    };
    let both = Gray::from_fn(left.width() + gap + right.width(), height, |x, y| {
        let beside = || x.checked_sub(left.width() + gap).and_then(|x| at(right, x, y));
        at(left, x, y).or_else(beside).unwrap_or(110)
    });
    scene.shot(Some(&both))
}

fn held(beginning: u64) -> Scene {
    let turns = [beginning as f32 * 2.0 - 7.0, 8.0, -5.0];
    Scene { wide: 0.95, turns, noise: 3.0, beginning, ..Scene::clear(400, 400) }
}

#[rstest]
#[case::alike(12, 12)]
#[case::smaller(14, 9)]
#[case::half_as_large(16, 8)]
fn two_labels_are_both_read_on_a_frame(#[case] one: usize, #[case] other: usize) {
    for beginning in 1..=6 {
        let picture = frame(&plate(LINK, one), &plate(OTHER, other), &held(beginning));
        let reading = seen(&picture, Effort::Frame);
        let mut read = texts(&reading);
        read.sort_unstable();
        assert_eq!(read, [LINK, OTHER], "beginning {beginning}");
        assert_eq!((reading.unread.len(), reading.unsure), (0, false));
    }
}

/// Down to modules of two pixels, where the larger label's are three times as wide. Below that one is missed now and
/// then, and nothing tells that it is there.
#[rstest]
fn a_much_smaller_label_beside_is_read_too(#[values(7, 6, 5)] small: usize) {
    for beginning in 1..=6 {
        let picture = frame(&plate(LINK, 16), &plate(OTHER, small), &held(beginning));
        let reading = seen(&picture, Effort::Frame);
        let mut read = texts(&reading);
        read.sort_unstable();
        assert_eq!(read, [LINK, OTHER], "{small}, beginning {beginning}");
    }
}

#[test]
fn without_time_for_it_a_frame_says_that_it_is_not_sure() {
    let picture = frame(&plate(LINK, 12), &kit::painted_over().unwrap(), &held(3));
    let whole = seen(&picture, Effort::Frame);
    assert_eq!((texts(&whole), whole.unread.len(), whole.unsure), (vec![LINK], 1, false));
    for most in 1..40 {
        let mut asked = 0;
        let reading = read(&picture, Effort::Frame, &mut || {
            asked += 1;
            asked <= most
        });
        let told = !reading.unread.is_empty() || reading.unsure;
        assert!(reading.codes.is_empty() || told, "silent after {most} questions");
    }
}

#[test]
fn one_label_alone_leaves_no_doubt() {
    for beginning in 1..=12 {
        let scene = Scene { wide: 0.7, ..held(beginning) };
        let reading = seen(&scene.shot(Some(&plate(LINK, 8))), Effort::Frame);
        assert_eq!((texts(&reading), reading.unread.len(), reading.unsure), (vec![LINK], 0, false));
    }
}
