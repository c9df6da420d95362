//! Linking a code to the instrument it stands on: pending at once, signed once, and never settled in silence.

use field::view::{CodeOutcome, InstrumentView, Message};
use record::read_export;
use rstest::rstest;
use serde_json::{Value, json};

use crate::desk::Desk;
use crate::pictures::photo_of;
use crate::records::sign;

const STRANGE: &str = "MDW/ASSET/40117";

/// Scans a code that nobody claims, and says whose it is.
fn link(desk: &Desk, code: &str, tag: &str) -> Message {
    let CodeOutcome::Unknown { code, linkable: true, .. } = desk.phone.find_code(code).unwrap() else {
        panic!("it is claimed, or cannot be linked");
    };
    desk.phone.link_ask(tag, &code).unwrap();
    desk.phone.link(tag, &code).unwrap()
}

fn tags(desk: &Desk, code: &str) -> Vec<String> {
    match desk.phone.find_code(code).unwrap() {
        CodeOutcome::Found { tag, .. } => vec![tag],
        CodeOutcome::Several { hits, .. } => hits.into_iter().map(|hit| hit.tag).collect(),
        CodeOutcome::Unknown { .. } | CodeOutcome::NotRead { .. } => Vec::new(),
    }
}

fn said(view: &InstrumentView) -> Vec<&str> {
    view.messages.iter().map(|message| message.code.as_str()).collect()
}

#[test]
fn a_linked_code_finds_its_instrument_at_once_and_after_a_restart_as_pending() {
    let desk = Desk::ready();
    assert_eq!(link(&desk, STRANGE, "LT-3107").code, "link.proposed");
    assert_eq!(tags(&desk, STRANGE), ["LT-3107"]);
    let desk = desk.restarted();
    assert_eq!(tags(&desk, STRANGE), ["LT-3107"]);
    let view = desk.phone.instrument("LT-3107").unwrap();
    assert_eq!(said(&view), ["link.pending"]);
    let line = view.codes.iter().find(|line| line.code == STRANGE).unwrap();
    assert!(line.pending && view.codes.iter().any(|line| !line.pending), "{:?}", view.codes);
    assert_eq!(said(&desk.phone.instrument("LT-2041").unwrap()), Vec::<&str>::new());
}

#[test]
fn the_same_link_again_is_no_second_proposal() {
    let desk = Desk::ready();
    link(&desk, STRANGE, "LT-3107");
    let before = desk.entries();
    let CodeOutcome::Found { code, .. } = desk.phone.find_code(STRANGE).unwrap() else { panic!() };
    let view = desk.phone.link_ask("LT-3107", &code).unwrap();
    assert!(view.is_known);
    assert_eq!(desk.phone.link("LT-3107", &code).unwrap().code, "link.already");
    // The register's own codes are known as well.
    let own = "https://id.marrowby.example/i/LT-3107";
    desk.phone.find_code(own).unwrap();
    assert_eq!(desk.phone.link("lt 3107", own).unwrap().code, "link.already");
    assert_eq!((before, desk.entries()), (1, 1));
}

#[test]
fn a_register_that_has_the_code_settles_the_proposal() {
    let desk = Desk::ready();
    link(&desk, STRANGE, "LT-3107");
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"][1]["codes"] = json!([STRANGE]);
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let view = desk.phone.instrument("LT-3107").unwrap();
    assert_eq!((said(&view), view.codes.len(), view.codes[0].pending), (vec![], 1, false));
    assert_eq!(tags(&desk, STRANGE), ["LT-3107"]);
}

#[test]
fn two_instruments_that_claim_one_code_are_told_before_and_on_both() {
    let desk = Desk::ready();
    let taken = "https://id.marrowby.example/i/LT-2041";
    let CodeOutcome::Found { code, .. } = desk.phone.find_code(taken).unwrap() else { panic!() };
    let view = desk.phone.link_ask("LT-3107", &code).unwrap();
    let conflict = view.messages.iter().find(|message| message.code == "code.conflict").unwrap();
    assert!(conflict.text.contains("LT-2041") && !view.is_known, "{conflict:?}");
    desk.phone.link("LT-3107", &code).unwrap();

    assert_eq!(tags(&desk, taken), ["LT-2041", "LT-3107"]);
    for (tag, other) in [("LT-2041", "LT-3107"), ("LT-3107", "LT-2041")] {
        let view = desk.phone.instrument(tag).unwrap();
        let conflict = view.messages.iter().find(|message| message.code == "code.conflict").unwrap();
        assert!(conflict.text.contains(other), "{tag}: {conflict:?}");
    }
}

#[test]
fn two_claims_within_the_register_are_told_on_both_too() {
    let desk = Desk::new();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    for row in 0..2 {
        file["instruments"][row]["codes"] = json!(["7"]);
    }
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    for tag in ["LT-2041", "LT-3107"] {
        assert_eq!(said(&desk.phone.instrument(tag).unwrap()), ["code.conflict"]);
    }
}

#[test]
fn only_what_was_scanned_is_linked_and_whole() {
    let desk = Desk::ready();
    assert_eq!(desk.phone.link("LT-3107", STRANGE).unwrap_err().code(), "code.gone");
    let scanned = format!("javascript:alert(1)\u{202e}{}", "x".repeat(4000));
    let CodeOutcome::Unknown { code, .. } = desk.phone.find_code(&scanned).unwrap() else { panic!() };
    assert!(code.len() < 400 && code.contains("⟨202E⟩"), "{code}");
    assert_eq!(desk.phone.link("LT-3107", "javascript:alert(1)").unwrap_err().code(), "code.gone");
    assert_eq!(desk.phone.link("LT-9999", &code).unwrap_err().code(), "instrument.unknown");
    desk.phone.link("LT-3107", &code).unwrap();
    assert_eq!(tags(&desk, &scanned), ["LT-3107"]);
    assert_eq!(tags(&desk, &scanned[..scanned.len() - 1]), Vec::<String>::new());
    // Shown as what it is, with nothing hidden in it.
    let view = desk.phone.instrument("LT-3107").unwrap();
    assert!(view.codes.iter().any(|line| line.pending && line.code == code));
}

#[rstest]
#[case::several_in_view(&["SOMEBODY ELSE'S 441", STRANGE])]
#[case::nothing_in_it(&["  "])]
fn a_code_that_nobody_can_point_at_is_not_offered_for_linking(#[case] codes: &[&str]) {
    let desk = Desk::ready();
    let outcome = desk.phone.find_photo(&desk.upload(&photo_of(codes))).unwrap();
    assert!(matches!(outcome, CodeOutcome::Unknown { linkable: false, .. }), "{outcome:?}");
}

#[test]
fn nobody_proposes_without_a_name() {
    let desk = Desk::new();
    desk.phone.register_load(&desk.upload(kit::register())).unwrap();
    let CodeOutcome::Unknown { code, .. } = desk.phone.find_code(STRANGE).unwrap() else { panic!() };
    assert_eq!(desk.phone.link("LT-3107", &code).unwrap_err().code(), "sign.no_technician");
    assert_eq!(tags(&desk, STRANGE), Vec::<String>::new());
}

#[test]
fn a_visit_signed_behind_a_proposal_still_stands_in_its_chain() {
    let desk = Desk::ready();
    link(&desk, STRANGE, "LT-3107");
    let record = sign(&desk, &kit::dip());
    assert_eq!(record.proof, "Signature checked");
    let file = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    assert_eq!(read_export(&file).unwrap().entries[0].header.seq.get(), 2);
}
