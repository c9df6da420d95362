//! Signing a visit and everything after.

use domain::visit::{Choice, Key, Spot, Step};
use field::view::{Change, RecordView};
use kit::Story;
use record::read_export;

use crate::desk::{Desk, holds};

pub(crate) fn play(desk: &Desk, story: &Story, until: Option<Step>) -> String {
    desk.phone.find_code(&story.code).unwrap();
    let id = desk.phone.visit_begin(&story.tag, Choice::ByCode, &story.code).unwrap().id;
    for part in &story.parts {
        if Some(part.step) == until {
            break;
        }
        desk.phone.visit_change(&id, &Change::Go { step: part.step }).unwrap();
        for act in &part.acts {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    id
}

pub(crate) fn sign(desk: &Desk, story: &Story) -> RecordView {
    desk.phone.visit_sign(&play(desk, story, None)).unwrap()
}

#[test]
fn a_visit_is_signed_found_again_and_checked() {
    let desk = Desk::ready();
    let record = sign(&desk, &kit::dip());
    assert_eq!((record.tag.as_str(), record.technician.as_str()), ("LT-2041", "Asha Renn"));
    assert_eq!(record.when, "25 Nov 2026 11:42");
    assert_eq!(record.proof, "Signature checked");
    let desk = desk.restarted();
    let home = desk.phone.home().unwrap();
    assert_eq!(home.drafts, []);
    assert_eq!(home.status, "1 record on this phone");
    assert_eq!(home.signed[0].id, record.id);
    assert_eq!(home.signed[0].verdict, record.verdict.short);
    assert_eq!(desk.phone.record(&record.id).unwrap(), record);
    assert_eq!(desk.phone.instrument("LT-2041").unwrap().signed.len(), 1);
}

#[test]
fn signing_waits_for_back_in_service_and_for_a_name() {
    let desk = Desk::ready();
    let id = play(&desk, &kit::dip(), Some(Step::BackInService));
    let error = desk.phone.visit_sign(&id).unwrap_err();
    assert_eq!(error.code(), "sign.not_ready");
    assert!(!error.message().remedy.is_empty());
    let story = kit::dip();
    for act in story.acts(Step::BackInService) {
        desk.phone.visit_change(&id, &act.change()).unwrap();
    }
    desk.phone.set_technician("").unwrap();
    assert_eq!(desk.phone.visit_sign(&id).unwrap_err().code(), "sign.no_technician");
    assert_eq!(desk.phone.home().unwrap().drafts.len(), 1, "nothing is lost by a refusal");
    desk.phone.set_technician("Asha Renn").unwrap();
    desk.phone.visit_sign(&id).unwrap();
    assert_eq!(desk.phone.visit_sign(&id).unwrap_err().code(), "store.no_draft", "no visit is signed twice");
}

#[test]
fn records_stand_behind_each_other_and_the_export_verifies() {
    let desk = Desk::ready();
    let (first, second) = (sign(&desk, &kit::dip()), sign(&desk, &kit::known_empty()));
    assert_eq!(second.proof, "Signature checked");
    let path = desk.phone.record_export(&second.id).unwrap();
    assert!(path.ends_with("exports/LT-3107-2026-11-25.headmark"), "{path}");
    assert_eq!(desk.phone.record_export(&second.id).unwrap(), path);
    let file = std::fs::read(&path).unwrap();
    let export = read_export(&file).unwrap();
    let header = &export.entries[0].header;
    assert_eq!((header.seq.get(), header.claimed.offset_minutes), (2, 60));
    assert!(header.previous.is_some() && header.boot.is_some());
    let visit = bodies::Visit::of_entry(&export.entries[0]).unwrap();
    assert_eq!(visit.finished.instrument.tag, "LT-3107");
    assert!(!holds(&file, b"Asha Renn"), "a record names a person by number only");
    assert_ne!(first.id, second.id);
}

#[test]
fn a_record_that_does_not_hold_is_shown_with_what_is_wrong() {
    let desk = Desk::ready();
    let record = sign(&desk, &kit::dip());
    let file = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    let export = read_export(&file).unwrap();
    let sealed = &export.entries[0];
    // The last byte of the signature stands right before the body, whose length takes three bytes.
    let mut bytes = sealed.bytes.to_vec();
    let end = bytes.len() - sealed.body.len() - 3;
    bytes[end - 1] ^= 1;
    // On another phone: on this one the true entry stands at the place.
    let other = tempfile::tempdir().unwrap();
    let store = field::Opening::at(other.path().join("headmark.db")).open().unwrap();
    let log = store::LogId::of(sealed.id.log);
    store.keep_keys(std::slice::from_ref(&export.key)).unwrap();
    store.vouch(&[log]).unwrap();
    let forged = store::NewEntry {
        place: store::Place { log, seq: store::Seq::FIRST },
        hash: store::PayloadHash::of(sealed.id.payload),
        previous: None,
        kind: store::Kind(u64::from(sealed.header.kind.0)),
        bytes,
    };
    store.take_in("a test", &[forged]).unwrap();
    drop(store);
    let phone = crate::desk::open(other.path(), &desk.clock, None).unwrap();
    let shown = phone.record(&record.id).unwrap();
    assert_eq!(shown.tag, "LT-2041");
    assert!(shown.proof.contains("does not hold"), "{}", shown.proof);
    assert_eq!(phone.record_export(&record.id).unwrap_err().code(), "record.entry");
}

#[test]
fn a_record_nobody_has_is_unknown() {
    let desk = Desk::ready();
    for id in ["", "x", &format!("{}-1", "00".repeat(32))] {
        assert_eq!(desk.phone.record(id).unwrap_err().code(), "record.unknown");
        assert_eq!(desk.phone.record_export(id).unwrap_err().code(), "record.unknown");
    }
}

#[test]
fn the_same_person_keeps_their_number_and_another_gets_another() {
    let person = |desk: &Desk, story: &Story| {
        let path = desk.phone.record_export(&sign(desk, story).id).unwrap();
        let file = std::fs::read(path).unwrap();
        bodies::Visit::of_entry(&read_export(&file).unwrap().entries[0]).unwrap().technician.person
    };
    let desk = Desk::ready();
    let first = person(&desk, &kit::dip());
    desk.phone.set_technician("Ivo Tarn").unwrap();
    let other = person(&desk, &kit::known_empty());
    desk.phone.set_technician(" Asha Renn ").unwrap();
    let again = person(&desk, &kit::vented());
    assert_eq!((first == again, first == other), (true, false));
    let names: Vec<_> = desk.phone.home().unwrap().signed;
    let by = |index: usize| desk.phone.record(&names[index].id).unwrap().technician;
    assert_eq!([by(0), by(1), by(2)], ["Asha Renn", "Ivo Tarn", "Asha Renn"]);
}

#[test]
fn the_note_of_a_story_reaches_the_record() {
    let desk = Desk::ready();
    let id = play(&desk, &kit::dip(), None);
    let spot = Spot::of(Key::Note);
    desk.phone.visit_change(&id, &kit::answer(spot, "Gate left as found")).unwrap();
    let record = desk.phone.visit_sign(&id).unwrap();
    let lines = record.parts.iter().flat_map(|part| &part.lines);
    assert!(lines.into_iter().any(|line| line.value.contains("Gate left as found")));
}
