//! Looking for a code on the camera's frames and on a photo, each for as long as it is worth.

use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use camera::Scene;
use field::view::CodeOutcome;
use rstest::rstest;
use tagcode::{Code, Gray, Strength};

use crate::desk::Desk;
use crate::pictures::{blank, painted_over, photo_of};

const LABEL: &str = "https://id.marrowby.example/i/LT-3107";

const OTHER: &str = "https://id.marrowby.example/i/LT-2041";

/// What the camera sees of a label in the middle of its frame.
fn frame_of(code: &str) -> Gray {
    let label = Code::of(code, Strength::Medium).unwrap().bitmap(6);
    let edge = (400 - label.width()) / 2;
    Gray::from_fn(400, 400, |x, y| {
        let inside = |at: usize| at.checked_sub(edge).filter(|at| *at < label.width());
        inside(x).zip(inside(y)).map_or(120, |(x, y)| label.pixels()[y * label.width() + x])
    })
}

fn look(desk: &Desk, frame: &Gray) -> Option<CodeOutcome> {
    let (width, height) = (u32::try_from(frame.width()).unwrap(), u32::try_from(frame.height()).unwrap());
    desk.phone.find_frame(width, height, &STANDARD.encode(frame.pixels())).unwrap()
}

#[test]
fn a_frame_with_a_label_leads_to_its_instrument_and_one_without_to_the_next() {
    let desk = Desk::ready();
    assert_eq!(look(&desk, &Gray::from_fn(400, 400, |_, _| 120)), None);
    let found = CodeOutcome::Found { tag: "LT-3107".into(), code: LABEL.into(), message: None };
    assert_eq!(look(&desk, &frame_of(LABEL)), Some(found));
    let strange = look(&desk, &frame_of("SOMEBODY ELSE'S 441"));
    assert!(matches!(strange, Some(CodeOutcome::Unknown { .. })), "{strange:?}");
}

/// What the camera sees of two labels that hang side by side.
fn frame_beside(one: &Gray, other: &Gray) -> Gray {
    let both = Gray::from_fn(one.width() + other.width(), one.height().max(other.height()), |x, y| {
        let (label, x) = if x < one.width() { (one, x) } else { (other, x - one.width()) };
        if y < label.height() { label.at(x as isize, y as isize) } else { 120 }
    });
    let scene = Scene { wide: 0.95, turns: [3.0, 6.0, -4.0], noise: 3.0, ..Scene::clear(400, 400) };
    scene.shot(Some(&both))
}

fn printed(text: &str, pixels: usize) -> Gray {
    Code::of(text, Strength::Medium).unwrap().bitmap(pixels)
}

#[rstest]
#[case::alike(8, 8)]
#[case::a_smaller_one(10, 6)]
fn two_labels_on_a_frame_ask_which(#[case] one: usize, #[case] other: usize) {
    let desk = Desk::ready();
    for (left, right) in [(LABEL, OTHER), (OTHER, LABEL)] {
        let outcome = look(&desk, &frame_beside(&printed(left, one), &printed(right, other)));
        let Some(CodeOutcome::Several { hits, .. }) = outcome else { panic!("{outcome:?}") };
        let mut tags: Vec<_> = hits.iter().map(|hit| hit.tag.as_str()).collect();
        tags.sort_unstable();
        assert_eq!(tags, ["LT-2041", "LT-3107"]);
    }
}

#[test]
fn a_second_label_that_a_frame_does_not_tell_is_waited_for_and_then_told() {
    let desk = Desk::ready();
    let unread = frame_beside(&printed(LABEL, 6), &painted_over());
    let both = frame_beside(&printed(LABEL, 6), &printed(OTHER, 6));
    // It may be told by one of the next frames.
    for _ in 0..3 {
        assert_eq!(look(&desk, &unread), None);
    }
    let outcome = look(&desk, &both);
    assert!(matches!(outcome, Some(CodeOutcome::Several { .. })), "{outcome:?}");
    // But not for ever: the count began anew, and then it is said that it is there.
    for _ in 0..5 {
        assert_eq!(look(&desk, &unread), None);
    }
    let Some(CodeOutcome::Found { tag, message: Some(message), .. }) = look(&desk, &unread) else {
        panic!("it is not told")
    };
    assert_eq!((tag.as_str(), message.code.as_str()), ("LT-3107", "code.unread_beside"));
}

#[test]
fn a_second_label_that_there_is_no_time_for_is_told_as_well() {
    let desk = Desk::ready();
    // The first attempt reads, and then the time is over.
    desk.clock.tick_by(Duration::from_millis(14));
    let unread = frame_beside(&printed(LABEL, 6), &painted_over());
    let told = std::iter::repeat_with(|| look(&desk, &unread)).take(6).find_map(|outcome| outcome);
    let Some(CodeOutcome::Found { message: Some(message), .. }) = told else { panic!("{told:?}") };
    assert_eq!(message.code, "code.unread_beside");
}

#[rstest]
#[case::fewer_pixels(400, 400, STANDARD.encode([0; 400]))]
#[case::no_base64(1, 1, "?".into())]
#[case::too_many(2000, 2000, STANDARD.encode(vec![0; 2000 * 2000]))]
#[case::a_width_beyond_all(u32::MAX, u32::MAX, String::new())]
fn a_frame_that_is_none_is_refused(#[case] width: u32, #[case] height: u32, #[case] pixels: String) {
    let desk = Desk::ready();
    assert_eq!(desk.phone.find_frame(width, height, &pixels).unwrap_err().code(), "camera.bad_frame");
}

/// Black and white turned round: what the first attempt does not look for and a later one does.
fn inverted() -> Gray {
    let label = frame_of(LABEL);
    Gray::from_fn(400, 400, |x, y| 255 - label.pixels()[y * 400 + x])
}

#[rstest]
#[case::in_time(Duration::from_millis(1), true)]
#[case::out_of_time(Duration::from_millis(41), false)]
fn a_frame_is_looked_at_for_forty_milliseconds(#[case] pace: Duration, #[case] is_read: bool) {
    let desk = Desk::ready();
    desk.clock.tick_by(pace);
    assert_eq!(look(&desk, &inverted()).is_some(), is_read);
}

fn not_read(outcome: CodeOutcome) -> (String, bool) {
    let CodeOutcome::NotRead { message, longer } = outcome else { panic!("{outcome:?}") };
    assert_eq!(message.code, "code.not_read");
    (message.text, longer)
}

#[rstest]
#[case::in_time(Duration::from_millis(1), false)]
#[case::out_of_time(Duration::from_millis(250), true)]
fn a_photo_is_looked_at_for_four_hundred_milliseconds(#[case] pace: Duration, #[case] is_over: bool) {
    let desk = Desk::ready();
    desk.clock.tick_by(pace);
    let (text, longer) = not_read(desk.phone.find_photo(&desk.upload(&blank())).unwrap());
    assert_eq!((text.contains("time for this photo"), longer), (is_over, true), "{text}");
}

#[test]
fn a_photo_that_told_nothing_is_looked_at_longer_once() {
    let desk = Desk::ready();
    assert_eq!(desk.phone.find_longer().unwrap_err().code(), "upload.gone");
    // Cut off by the clock before its second attempt, which would have read it.
    desk.clock.tick_by(Duration::from_millis(250));
    let turned: Vec<u8> = {
        let picture = inverted();
        crate::pictures::photo_beside(&[picture])
    };
    assert!(not_read(desk.phone.find_photo(&desk.upload(&turned)).unwrap()).1);
    desk.clock.tick_by(Duration::from_millis(1));
    let outcome = desk.phone.find_longer().unwrap();
    assert!(matches!(&outcome, CodeOutcome::Found { tag, .. } if tag == "LT-3107"), "{outcome:?}");
    assert_eq!(desk.phone.find_longer().unwrap_err().code(), "upload.gone");
}

#[test]
fn another_file_and_a_suspend_let_the_photo_go() {
    let desk = Desk::ready();
    desk.phone.find_photo(&desk.upload(&blank())).unwrap();
    let other = desk.upload(&photo_of(&[LABEL]));
    assert_eq!(desk.phone.find_longer().unwrap_err().code(), "upload.gone");
    desk.phone.upload_drop(&other);
    desk.phone.find_photo(&desk.upload(&blank())).unwrap();
    desk.phone.suspend().unwrap();
    assert_eq!(desk.phone.find_longer().unwrap_err().code(), "upload.gone");
}
