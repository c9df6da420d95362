//! Looking for a code on the camera's frames and on a photo, each for as long as it is worth.

use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use field::view::CodeOutcome;
use rstest::rstest;
use tagcode::{Code, Gray, Strength};

use crate::desk::Desk;
use crate::pictures::{blank, photo_of};

const LABEL: &str = "https://id.marrowby.example/i/LT-3107";

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
