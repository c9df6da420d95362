//! Finding an instrument by a code and by typing.

use std::collections::BTreeSet;

use domain::visit::{Choice, Key, Spot};
use field::view::CodeOutcome;
use rstest::rstest;
use serde_json::{Value, json};
use tagcode::{Code, Strength};

use crate::desk::{Desk, holds};
use crate::pictures::{blank, painted_over, photo_beside, photo_of};

#[test]
fn a_code_is_looked_up_by_its_whole_text() {
    let desk = Desk::ready();
    let found = desk.phone.find_code(" https://id.marrowby.example/i/LT-2041\n").unwrap();
    let code = "https://id.marrowby.example/i/LT-2041".to_owned();
    assert_eq!(found, CodeOutcome::Found { tag: "LT-2041".into(), code, message: None });
    for other in ["https://id.marrowby.example/i/LT-204", "HTTPS://id.marrowby.example/i/LT-2041", "LT-2041"]
    {
        let outcome = desk.phone.find_code(other).unwrap();
        assert!(matches!(outcome, CodeOutcome::Unknown { .. }), "{other}: {outcome:?}");
    }
}

#[test]
fn an_unknown_code_is_kept_with_the_visit_as_it_was_scanned() {
    let desk = Desk::ready();
    let scanned = "PLANT\u{202e}7/441";
    let CodeOutcome::Unknown { code, message, linkable: true } = desk.phone.find_code(scanned).unwrap()
    else {
        panic!("nobody claims this code");
    };
    assert_eq!((code.as_str(), message.code.as_str()), ("PLANT⟨202E⟩7/441", "code.unknown"));
    desk.phone.visit_begin("LT-2041", Choice::ByTyping, &code).unwrap();
    assert!(holds(&desk.on_storage(), scanned.as_bytes()));
}

fn found_whole(code: &str) -> CodeOutcome {
    CodeOutcome::Found { tag: "LT-3107".into(), code: code.into(), message: None }
}

#[test]
fn a_photo_of_a_label_leads_to_its_instrument() {
    let desk = Desk::ready();
    let code = "https://id.marrowby.example/i/LT-3107";
    let outcome = desk.phone.find_photo(&desk.upload(&photo_of(&[code]))).unwrap();
    assert_eq!(outcome, found_whole(code));
    let beside = photo_of(&["SOMEBODY ELSE'S 441", code]);
    let outcome = desk.phone.find_photo(&desk.upload(&beside)).unwrap();
    assert_eq!(outcome, found_whole(code));
}

#[test]
fn a_code_that_is_seen_but_not_read_is_told_as_that() {
    let desk = Desk::ready();
    let outcome = desk.phone.find_photo(&desk.upload(&photo_beside(&[painted_over()]))).unwrap();
    let CodeOutcome::NotRead { message, .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!(message.code, "code.unread");
    assert!(message.remedy.contains("nearer") && message.remedy.contains("type the tag"), "{message:?}");
}

#[test]
fn a_code_that_is_seen_but_not_read_beside_another_is_told_with_it() {
    let desk = Desk::ready();
    let beside = |code: &str| {
        let read = Code::of(code, Strength::Medium).unwrap().bitmap(6);
        desk.phone.find_photo(&desk.upload(&photo_beside(&[read, painted_over()]))).unwrap()
    };
    let outcome = beside("https://id.marrowby.example/i/LT-3107");
    let CodeOutcome::Found { tag, message: Some(message), .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!((tag.as_str(), message.code.as_str()), ("LT-3107", "code.unread_beside"));
    let outcome = beside("SOMEBODY ELSE'S 441");
    let CodeOutcome::Unknown { message, linkable: false, .. } = outcome else { panic!("{outcome:?}") };
    assert!(message.text.contains("could not be read"), "{message:?}");
}

#[test]
fn two_labels_in_view_ask_which() {
    let desk = Desk::ready();
    let photo = photo_of(&["https://id.marrowby.example/i/LT-3107", "https://id.marrowby.example/i/LT-2041"]);
    let outcome = desk.phone.find_photo(&desk.upload(&photo)).unwrap();
    let CodeOutcome::Several { hits, code, .. } = outcome else { panic!("{outcome:?}") };
    let tags: BTreeSet<_> = hits.iter().map(|hit| hit.tag.as_str()).collect();
    assert_eq!((tags, code.as_str()), (BTreeSet::from(["LT-2041", "LT-3107"]), ""));
}

#[rstest]
#[case::a_text(b"this is no photo".to_vec(), "photo.not_a_photo")]
#[case::cut_short(photo_of(&["TL WASH 4012"])[..200].to_vec(), "photo.damaged")]
#[case::no_code(blank(), "code.not_read")]
fn a_file_without_a_code_says_what_to_do(#[case] bytes: Vec<u8>, #[case] code: &str) {
    let desk = Desk::ready();
    let outcome = desk.phone.find_photo(&desk.upload(&bytes)).unwrap();
    let CodeOutcome::NotRead { message, .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!(message.code, code);
    assert!(!format!("{}{}", message.text, message.remedy).is_empty());
}

/// A code that two instruments have, with a mark in it that is made safe to show.
const SHARED: &str = "MDW\u{202e}7";

#[test]
fn a_code_of_two_instruments_asks_which() {
    let desk = Desk::new();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    for row in 0..2 {
        file["instruments"][row]["codes"] = json!([SHARED]);
    }
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let CodeOutcome::Several { hits, code, message } = desk.phone.find_code(SHARED).unwrap() else {
        panic!("two instruments claim it");
    };
    let tags: Vec<_> = hits.iter().map(|hit| hit.tag.as_str()).collect();
    assert_eq!((tags, message.code.as_str()), (vec!["LT-2041", "LT-3107"], "code.several"));
    // The visit to the one that is chosen keeps what was scanned.
    assert_eq!(code, "MDW\u{27e8}202E\u{27e9}7");
    desk.phone.set_technician("Asha Renn").unwrap();
    desk.phone.visit_begin("LT-3107", Choice::ByCode, &code).unwrap();
    assert!(holds(&desk.on_storage(), SHARED.as_bytes()));
}

#[test]
fn a_search_offers_and_follows_a_new_register() {
    let desk = Desk::ready();
    let first = |text: &str| desk.phone.search(text).unwrap().first().map(|hit| (hit.tag.clone(), hit.exact));
    assert_eq!(first("lt2O41"), Some(("LT-2041".into(), true)));
    assert_eq!(first("LT-2401"), Some(("LT-2041".into(), false)));
    assert_eq!(first("cold ash"), Some(("LT-3107".into(), false)));
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"].as_array_mut().unwrap().remove(0);
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!(first("lt2041"), None);
}

#[test]
fn an_instrument_says_what_to_know_before_a_phone_comes_out() {
    let desk = Desk::ready();
    let view = desk.phone.instrument("lt-2041").unwrap();
    assert_eq!((view.service.as_str(), view.site.as_str()), ("Sedge Hill tower level", "Sedge Hill"));
    assert!(view.hazards.iter().any(|said| said.code == "hazard.permit"));
    assert!(view.plate.iter().any(|line| line.what == "Serial number" && line.value == "MW-50-11873"));
    assert_eq!((view.draft, view.signed, view.refusal), (None, vec![], None));
    let drum = desk.phone.instrument("LT-5003").unwrap();
    assert_eq!(drum.refusal.unwrap().code, "refused.safety_function");
    let error = desk.phone.visit_begin("LT-5003", Choice::ByList, "").unwrap_err();
    assert_eq!(error.code(), "refused.safety_function");
    assert_eq!(desk.phone.instrument("LT-9999").unwrap_err().code(), "instrument.unknown");
}

#[test]
fn an_open_visit_stands_on_its_instrument() {
    let desk = Desk::ready();
    let begun = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap();
    let spot = Spot::of(Key::Display);
    let change = kit::answer(spot, "14.53");
    desk.phone.visit_change(&begun.id, &change).unwrap();
    assert_eq!(desk.phone.instrument("LT-2041").unwrap().draft.unwrap().id, begun.id);
}
