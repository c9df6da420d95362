//! What a supervisor decided, on the phone of whoever it concerns: visits that come back, proposals that were declined.

use bodies::{PersonId, REVIEW, REVIEW_VERSION, Review};
use field::view::{CodeOutcome, Grade};
use kit::Office;
use record::Signer;

use crate::desk::Desk;
use crate::records::sign;

const CODE: &str = "MDW/ASSET/40117";
const WORDS: &str = "The dips do not agree. Dip once more.";

fn link(desk: &Desk, tag: &str) {
    let CodeOutcome::Unknown { code, .. } = desk.phone.find_code(CODE).unwrap() else { panic!() };
    desk.phone.link(tag, &code).unwrap();
}

fn said(desk: &Desk, tag: &str) -> Vec<String> {
    desk.phone.instrument(tag).unwrap().messages.into_iter().map(|message| message.code).collect()
}

#[test]
fn a_visit_that_was_returned_stands_on_home_until_another_answers_it() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let record = sign(&desk, &kit::dip());
    let other = sign(&desk, &kit::known_empty());
    office.enrols(&desk.phone).unwrap();
    assert_eq!((desk.phone.home().unwrap().answers, record.decision), (vec![], None));
    office.returns(&desk.phone, 1, WORDS).unwrap();
    office.approves(&desk.phone, 2).unwrap();
    let desk = desk.restarted();
    let home = desk.phone.home().unwrap();
    assert_eq!(home.answers.len(), 1, "{:?}", home.answers);
    let answer = &home.answers[0];
    assert_eq!((answer.tag.as_str(), answer.record.as_str()), ("LT-2041", record.id.as_str()));
    assert_eq!((answer.message.code.as_str(), answer.message.grade), ("review.returned", Grade::Warning));
    assert!(answer.message.text.contains(WORDS), "{}", answer.message.text);
    let decisions: Vec<&str> = home.signed.iter().map(|line| line.decision.as_str()).collect();
    assert_eq!(decisions, ["Approved".to_owned(), format!("Returned: {WORDS}")]);
    let shown = desk.phone.record(&record.id).unwrap().decision.unwrap();
    assert_eq!((shown.code.as_str(), shown.text.contains(WORDS)), ("review.returned", true));
    assert_eq!(desk.phone.record(&other.id).unwrap().decision.unwrap().code, "review.approved");

    sign(&desk, &kit::dip());
    assert_eq!(desk.phone.home().unwrap().answers, [], "another visit answers it");
    let shown = desk.phone.record(&record.id).unwrap().decision.unwrap();
    assert_eq!(shown.code, "review.returned", "its own page goes on saying so");
    // Looked at once more, it is in order after all.
    office.approves(&desk.phone, 1).unwrap();
    assert_eq!(desk.phone.record(&record.id).unwrap().decision.unwrap().code, "review.approved");
}

#[test]
fn a_decision_that_cannot_be_read_is_said_and_takes_nothing_else_away() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let record = sign(&desk, &kit::dip());
    office.enrols(&desk.phone).unwrap();
    office.returns(&desk.phone, 1, WORDS).unwrap();
    desk.phone.suspend().unwrap();
    let file = rusqlite::Connection::open(desk.folder.path().join("headmark.db")).unwrap();
    // The file itself holds that entries are never changed; damage does not ask.
    file.execute_batch("DROP TRIGGER entry_never_changes").unwrap();
    let changed = file.execute("UPDATE entry SET seal = zeroblob(length(seal)) WHERE kind = ?1", [REVIEW.0]);
    assert_eq!(changed.unwrap(), 1);
    drop(file);

    let home = desk.phone.home().unwrap();
    assert_eq!((home.signed.len(), home.signed[0].decision.as_str(), home.answers), (1, "", vec![]));
    assert_eq!(home.messages.iter().filter(|message| message.code == "store.unreadable").count(), 1);
    assert_eq!(desk.phone.record(&record.id).unwrap().decision, None);
    assert_eq!(desk.phone.instrument("LT-2041").unwrap().tag, "LT-2041");
}

#[test]
fn a_proposal_that_was_declined_ends_as_declined_with_the_words() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    link(&desk, "LT-3107");
    office.enrols(&desk.phone).unwrap();
    assert_eq!(said(&desk, "LT-3107"), ["link.pending"]);
    office.declines(&desk.phone, 1, "It is the flow meter's.").unwrap();
    let desk = desk.restarted();
    assert_eq!(said(&desk, "LT-3107"), ["proposal.declined"]);
    let view = desk.phone.instrument("LT-3107").unwrap();
    assert!(view.codes.iter().all(|line| line.code != CODE), "it leads there no longer: {:?}", view.codes);
    assert!(view.messages[0].text.contains("It is the flow meter's."), "{}", view.messages[0].text);
    let home = desk.phone.home().unwrap();
    assert_eq!((home.answers.len(), home.answers[0].tag.as_str()), (1, "LT-3107"));
    assert_eq!(home.answers[0].record, "", "it stands on its instrument");

    // Whoever scans it again is told before it is proposed again; then it is pending again.
    let CodeOutcome::Unknown { code, linkable: true, .. } = desk.phone.find_code(CODE).unwrap() else {
        panic!()
    };
    let ask = desk.phone.link_ask("LT-3107", &code).unwrap();
    assert!(ask.messages.iter().any(|message| message.code == "proposal.declined"), "{:?}", ask.messages);
    desk.phone.link("LT-3107", &code).unwrap();
    assert_eq!(said(&desk, "LT-3107"), ["link.pending"]);
    assert_eq!(desk.phone.home().unwrap().answers, []);
}

#[test]
fn a_unit_that_was_declined_leaves_the_registers_row_as_it_is() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    sign(&desk, &kit::Story::another_unit());
    office.enrols(&desk.phone).unwrap();
    let serial = |desk: &Desk| desk.phone.search("LT-3107").unwrap()[0].serial.clone();
    assert_eq!(serial(&desk), "MW-30-77001");
    office.declines(&desk.phone, 2, "The plate was read wrongly.").unwrap();
    assert_eq!(serial(&desk), "MW-30-20455");
    assert_eq!(said(&desk, "LT-3107"), ["proposal.declined"]);
    desk.clock.move_by(86_400_000);
    sign(&desk, &kit::Story::another_unit());
    assert_eq!(said(&desk, "LT-3107"), ["unit.pending"], "another visit found it again");
}

#[test]
fn nobody_but_the_hub_decides() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let record = sign(&desk, &kit::dip());
    office.enrols(&desk.phone).unwrap();
    // A review in a log that is no hub's: this phone's own, which everybody here trusts for visits.
    let key = desk.phone.exchange_key().unwrap();
    let log = store::LogId::of(key.public().log());
    let kept = desk.phone.ledger().entry(store::Place { log, seq: store::Seq(1) }).unwrap().unwrap();
    let before = record::open(&kept.entry.bytes).unwrap();
    let review = Review {
        subject: before.id,
        decision: bodies::Decision::Approved,
        note: String::new(),
        person: PersonId([1; 16]),
    };
    let link = record::Link::After { seq: before.id.seq, payload: before.id.payload };
    let claimed = before.header.claimed;
    let new = record::NewEntry { link, kind: REVIEW, body_version: REVIEW_VERSION, claimed, boot: None };
    let sealed = record::seal(&new, &review.encode().unwrap(), &key).unwrap();
    let entry = store::NewEntry {
        place: store::Place { log, seq: store::Seq::of(sealed.id.seq) },
        hash: store::PayloadHash::of(sealed.id.payload),
        previous: sealed.header.previous.map(store::PayloadHash::of),
        kind: store::Kind(u64::from(REVIEW.0)),
        bytes: sealed.bytes,
    };
    desk.phone.ledger().append(&entry).unwrap();
    desk.phone.exchanged();
    assert_eq!(desk.phone.record(&record.id).unwrap().decision, None);
}

#[test]
fn what_stands_in_the_words_hides_and_turns_nothing() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let record = sign(&desk, &kit::dip());
    office.enrols(&desk.phone).unwrap();
    office.returns(&desk.phone, 1, &format!("No\u{202e}\n{}", "photo ".repeat(60))).unwrap();
    let text = desk.phone.record(&record.id).unwrap().decision.unwrap().text;
    let all = "photo ".repeat(60);
    assert!(text.contains("No\u{27e8}202E\u{27e9} ") && text.contains(all.trim()), "{text}");
}
