//! The hub's code, read off the camera's frames.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use camera::Scene;
use exchange::enrol::LONGEST_ADDRESS;
use field::view::CodeOutcome;
use kit::Office;
use rstest::rstest;
use tagcode::{Code, Strength};

use crate::desk::Desk;

/// A hub's code as it is drawn, held well before a phone's camera.
fn scanned(desk: &Desk, invitation: &str) -> String {
    let code = Code::strongest(invitation, Strength::Medium).unwrap().bitmap(8);
    let scene = Scene { wide: 0.95, turns: [2.0, 3.0, -2.0], noise: 2.0, ..Scene::clear(400, 400) };
    let frame = scene.shot(Some(&code));
    let outcome = desk.phone.find_frame(400, 400, &STANDARD.encode(frame.pixels())).unwrap();
    let Some(CodeOutcome::Unknown { code, .. }) = outcome else { panic!("{outcome:?}") };
    code
}

/// What a page is given of a code is made safe to show, and is cut at 200 letters.
#[rstest]
#[case::as_usual(33)]
#[case::the_longest_that_is_shown_whole(94)]
#[case::one_more(95)]
#[case::the_longest_that_there_may_be(LONGEST_ADDRESS)]
fn a_scanned_invitation_is_taken_whole(#[case] length: usize) {
    let desk = Desk::ready();
    let address = format!("https://{}:8443", "h".repeat(length - "https://:8443".len()));
    let invitation =
        Office::new().unwrap().invitation().replace("https://hub.marrowby.example:8443", &address);
    let shown = scanned(&desk, &invitation);
    assert_eq!(shown == invitation, invitation.len() <= 200);
    assert_eq!(desk.phone.enrol_begin(&shown).unwrap().address, address);
}

/// Only what was scanned stands for the text that was shown of it.
#[test]
fn a_shown_text_of_another_code_is_no_invitation() {
    let desk = Desk::ready();
    let long = format!("https://{}", "h".repeat(150));
    let invitation = Office::new().unwrap().invitation().replace("https://hub.marrowby.example:8443", &long);
    let shown = scanned(&desk, &invitation);
    desk.phone.find_code("TL WASH 4012").unwrap();
    assert_eq!(desk.phone.enrol_begin(&shown).unwrap_err().code(), "enrol.not_an_invitation");
}
