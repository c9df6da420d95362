//! The PIN of a technician: set, changed, taken off, asked for when a visit is signed, mistyped and forgotten; and what the
//! record says of it.

use std::time::Duration;

use bodies::{Confirmed, PersonId, Technician, Visit};
use domain::visit::{Key, Spot};
use field::view::{Change, Confirming, Grade, RecordView};
use kit::Office;
use record::read_export;

use crate::desk::{Desk, holds};
use crate::records::{play, sign};

const PIN: &str = "481516";

fn with_pin() -> Desk {
    let desk = Desk::ready();
    desk.phone.pin_set(PIN, PIN).unwrap();
    desk
}

fn by(pin: &str) -> Confirming {
    Confirming::Pin { pin: pin.to_owned() }
}

/// Reads back from the signed bytes who signed a record, and how that was confirmed.
fn technician(desk: &Desk, record: &RecordView) -> Technician {
    let file = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    Visit::of_entry(read_export(&file).unwrap().entries.last().unwrap()).unwrap().technician
}

/// Gives a reason for going without the PIN, where the last step asks for it.
fn says_why(desk: &Desk, id: &str, text: &str) {
    let view = desk.phone.visit_open(id).unwrap();
    let field = view.signing.unwrap().pin.unwrap().without.reason.unwrap();
    let change = Change::Answer { key: field.key, piece: field.piece, row: field.row, text: text.to_owned() };
    desk.phone.visit_change(id, &change).unwrap();
}

/// How many PINs the phone keeps.
fn rows(desk: &Desk) -> u32 {
    desk.phone.suspend().unwrap();
    let file = rusqlite::Connection::open(desk.folder.path().join("headmark.db")).unwrap();
    file.query_row("SELECT count(*) FROM setting WHERE name LIKE 'pin of %'", [], |row| row.get(0)).unwrap()
}

fn refused(desk: &Desk, id: &str, how: &Confirming) -> String {
    desk.phone.visit_sign_confirmed(id, how).unwrap_err().code().to_owned()
}

/// Mistypes the PIN so often; each is refused.
fn mistypes(desk: &Desk, id: &str, times: u32) {
    for _ in 0..times {
        assert_eq!(refused(desk, id, &by("4815")), "pin.wrong");
    }
}

#[test]
fn where_no_pin_is_set_none_is_asked_for_and_the_record_says_so() {
    let desk = Desk::ready();
    let home = desk.phone.home().unwrap();
    let view = desk.phone.pin_view().unwrap();
    assert_eq!((home.has_pin, view.is_set, view.technician.as_str()), (false, false, "Asha Renn"));
    let id = play(&desk, &kit::dip(), None);
    let signing = desk.phone.visit_open(&id).unwrap().signing.unwrap();
    assert_eq!((signing.technician.as_str(), signing.pin), ("Asha Renn", None));
    assert!(signing.says.contains("nobody confirmed"), "{}", signing.says);
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.none", "nobody is told that a PIN was looked at");
    let record = desk.phone.visit_sign(&id).unwrap();
    assert_eq!((technician(&desk, &record).confirmed, record.confirmed.as_str()), (Confirmed::None, "No"));
    assert!(record.warnings.iter().all(|said| said.code != "sign.without_pin"), "nothing was gone without");
}

#[test]
fn a_pin_that_is_set_is_asked_for_and_the_record_says_that_it_was_typed() {
    let desk = with_pin().restarted();
    assert!(desk.phone.home().unwrap().has_pin);
    let id = play(&desk, &kit::dip(), None);
    let asked = desk.phone.visit_open(&id).unwrap().signing.unwrap().pin.unwrap();
    assert_eq!(asked.wait, None);
    let without = desk.phone.visit_sign(&id).unwrap_err();
    assert_eq!(without.code(), "sign.pin_asked");
    assert_eq!(desk.phone.home().unwrap().drafts.len(), 1, "nothing is lost by a refusal");
    let record = desk.phone.visit_sign_confirmed(&id, &by(" 48 15-16\n")).unwrap();
    assert_eq!((technician(&desk, &record).confirmed, record.confirmed.as_str()), (Confirmed::Pin, "By PIN"));
    assert!(record.warnings.iter().all(|said| said.code != "sign.without_pin"));
    // What is not signed on the last step of a visit was confirmed by nothing, and says so.
    let field::view::CodeOutcome::Unknown { code, .. } = desk.phone.find_code("MDW/ASSET/40117").unwrap()
    else {
        panic!()
    };
    desk.phone.link("LT-3107", &code).unwrap();
    let own = store::LogId::of(record::Signer::public(&desk.phone.exchange_key().unwrap()).log());
    let link = desk.phone.ledger().entry(store::Place { log: own, seq: store::Seq(2) }).unwrap().unwrap();
    let link = bodies::Proposal::of_entry(&record::open(&link.entry.bytes).unwrap()).unwrap();
    assert_eq!(link.technician.confirmed, Confirmed::None);
}

#[test]
fn a_unit_found_fitted_is_proposed_under_the_same_pin() {
    let desk = with_pin();
    let id = play(&desk, &kit::Story::another_unit(), None);
    desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
    let own = store::LogId::of(record::Signer::public(&desk.phone.exchange_key().unwrap()).log());
    let unit = desk.phone.ledger().entry(store::Place { log: own, seq: store::Seq(2) }).unwrap().unwrap();
    let unit = bodies::Proposal::of_entry(&record::open(&unit.entry.bytes).unwrap()).unwrap();
    assert_eq!(unit.technician.confirmed, Confirmed::Pin);
}

#[test]
fn a_pin_is_changed_and_taken_off_by_whoever_has_the_old_one() {
    let desk = with_pin();
    assert_eq!(desk.phone.pin_set("271828", "271828").unwrap_err().code(), "pin.is_set");
    assert_eq!(desk.phone.pin_change("0000", "271828", "271828").unwrap_err().code(), "pin.wrong");
    // What is wrong with the new one is said before the old one is tried: that costs no try.
    for (pin, again, code) in
        [("1111", "1111", "pin.easy"), ("27", "27", "pin.not_a_pin"), ("271828", "271829", "pin.differ")]
    {
        assert_eq!(desk.phone.pin_change("0001", pin, again).unwrap_err().code(), code);
    }
    assert_eq!(desk.phone.pin_remove("4815").unwrap_err().message().text.matches("3 more tries").count(), 1);
    let view = desk.phone.pin_change(PIN, "271828", "271828").unwrap();
    assert_eq!((view.is_set, view.message.unwrap().code.as_str()), (true, "pin.done"));
    let desk = desk.restarted();
    let id = play(&desk, &kit::dip(), None);
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.wrong", "the old one opens nothing any more");
    assert_eq!(desk.phone.pin_remove(PIN).unwrap_err().code(), "pin.wrong");
    let view = desk.phone.pin_remove("271828").unwrap();
    assert!(!view.is_set && !desk.phone.home().unwrap().has_pin);
    assert_eq!(desk.phone.pin_remove("271828").unwrap_err().code(), "pin.none");
    assert_eq!(desk.phone.pin_change("271828", PIN, PIN).unwrap_err().code(), "pin.none");
    let record = desk.phone.visit_sign(&id).unwrap();
    assert_eq!(technician(&desk, &record).confirmed, Confirmed::None);
    assert_eq!(rows(&desk), 0);
}

#[test]
fn what_anybody_would_try_first_is_no_pin() {
    let desk = Desk::ready();
    for (pin, again, code) in [
        ("123", "123", "pin.not_a_pin"),
        ("", "", "pin.not_a_pin"),
        ("four", "four", "pin.not_a_pin"),
        ("7777", "7777", "pin.easy"),
        ("3456", "3456", "pin.easy"),
        ("9876", "9876", "pin.easy"),
        (PIN, "481517", "pin.differ"),
    ] {
        let error = desk.phone.pin_set(pin, again).unwrap_err();
        assert_eq!(error.code(), code, "{pin}");
        assert!(!error.message().remedy.is_empty());
        assert!(
            pin.is_empty() || !error.message().text.contains(pin),
            "a message holds nothing that was typed"
        );
    }
    assert!(!desk.phone.pin_view().unwrap().is_set);
}

#[test]
fn each_who_works_with_the_phone_has_their_own() {
    let desk = with_pin();
    desk.phone.set_technician("Ben Okoro").unwrap();
    assert!(!desk.phone.home().unwrap().has_pin);
    let record = sign(&desk, &kit::known_empty());
    assert_eq!(technician(&desk, &record).confirmed, Confirmed::None);
    desk.phone.pin_set("271828", "271828").unwrap();
    let id = play(&desk, &kit::dip(), None);
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.wrong", "hers is not his");
    desk.phone.visit_sign_confirmed(&id, &by("271828")).unwrap();
    let id = play(&desk, &kit::vented(), None);
    mistypes(&desk, &id, 4);
    desk.phone.set_technician("Asha Renn").unwrap();
    assert_eq!(refused(&desk, &id, &by("271828")), "pin.wrong");
    mistypes(&desk, &id, 3);
    assert_eq!(
        desk.phone.visit_open(&id).unwrap().signing.unwrap().pin.unwrap().wait,
        None,
        "his count is not hers"
    );
    desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
}

#[test]
fn a_wrong_pin_costs_nothing_but_a_wait_that_grows() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    let said = |desk: &Desk| desk.phone.visit_sign_confirmed(&id, &by("4815")).unwrap_err().message();
    let told: Vec<String> = (0..5).map(|_| said(&desk).text).collect();
    let first = "This is not the PIN. 4 more tries, then a wait of 30 seconds.";
    let last = "This is not the PIN. Wait 30 seconds, then try again.";
    assert_eq!((told[0].as_str(), told[4].as_str()), (first, last));
    assert!(told[3].contains("One more try"), "{told:?}");
    assert_eq!(desk.phone.home().unwrap().drafts.len(), 1);
    // Meanwhile the right one is not looked at either, and no try is counted.
    for _ in 0..3 {
        let error = desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap_err().message();
        assert_eq!((error.code.as_str(), error.grade), ("pin.waits", Grade::Warning));
    }
    assert_eq!(desk.phone.pin_remove(PIN).unwrap_err().code(), "pin.waits", "nor by another door");
    let mut wait = 30;
    for next in [60, 120, 300, 900, 900] {
        desk.clock.pass(Duration::from_secs(wait - 1));
        assert_eq!(refused(&desk, &id, &by(PIN)), "pin.waits");
        desk.clock.pass(Duration::from_secs(1));
        assert_eq!(refused(&desk, &id, &by("4815")), "pin.wrong");
        wait = next;
    }
    let shown = desk.phone.visit_open(&id).unwrap().signing.unwrap().pin.unwrap().wait.unwrap();
    assert!(shown.text.contains("15 minutes"), "{}", shown.text);
    desk.clock.pass(Duration::from_secs(900));
    let record = desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
    assert_eq!(technician(&desk, &record).confirmed, Confirmed::Pin);
    // The right one ended the count.
    let id = play(&desk, &kit::known_empty(), None);
    let text = desk.phone.visit_sign_confirmed(&id, &by("4815")).unwrap_err().message().text;
    assert!(text.contains("4 more tries"), "{text}");
}

#[test]
fn a_wait_outlives_the_app_and_the_phone_and_no_set_clock_ends_it() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    mistypes(&desk, &id, 5);
    desk.clock.pass(Duration::from_secs(10));
    let desk = desk.restarted();
    desk.clock.move_by(3_600_000);
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.waits", "the wall clock was set forward");
    // Started anew: what passed before is not known, and what passes from now on is.
    desk.clock.boot();
    desk.clock.pass(Duration::from_secs(25));
    let desk = desk.restarted();
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.waits");
    desk.clock.move_by(-2 * 86_400_000);
    desk.clock.pass(Duration::from_secs(5));
    desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
}

#[test]
fn where_there_is_only_the_wall_clock_setting_it_back_makes_no_wait_longer() {
    let desk = with_pin();
    desk.clock.tell_no_boot();
    let id = play(&desk, &kit::dip(), None);
    mistypes(&desk, &id, 5);
    desk.clock.move_by(-86_400_000);
    let wait = |desk: &Desk| desk.phone.visit_open(&id).unwrap().signing.unwrap().pin.unwrap().wait;
    assert!(wait(&desk).unwrap().text.contains("30 seconds"));
    desk.clock.pass(Duration::from_secs(20));
    let desk = desk.restarted();
    assert!(wait(&desk).unwrap().text.contains("10 seconds"));
    desk.clock.pass(Duration::from_secs(10));
    assert_eq!(wait(&desk), None);
    desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
}

#[test]
fn whoever_forgot_it_signs_without_it_with_a_reason_that_the_record_warns_of() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    mistypes(&desk, &id, 5);
    let error = desk.phone.visit_sign_confirmed(&id, &Confirming::Without).unwrap_err();
    assert_eq!(error.code(), "sign.no_reason");
    says_why(&desk, &id, "   ");
    assert_eq!(refused(&desk, &id, &Confirming::Without), "sign.no_reason", "blanks are no reason");
    says_why(&desk, &id, "Set last winter and forgotten");
    // Whatever was typed is kept, and the wait keeps nobody from work.
    let desk = desk.restarted();
    let record = desk.phone.visit_sign_confirmed(&id, &Confirming::Without).unwrap();
    assert_eq!((technician(&desk, &record).confirmed, record.confirmed.as_str()), (Confirmed::None, "No"));
    let warning = record.warnings.iter().find(|said| said.code == "sign.without_pin").unwrap();
    assert_eq!(warning.grade, Grade::Warning);
    assert!(warning.text.ends_with("Set last winter and forgotten"), "{}", warning.text);
    let lines = record.parts.iter().flat_map(|part| &part.lines);
    assert!(lines.into_iter().any(|line| line.value == "Set last winter and forgotten"));
    assert_eq!(desk.phone.record(&record.id).unwrap(), record);
    assert_eq!(record.proof, "Signature checked");
    // The PIN is still set.
    assert!(desk.phone.home().unwrap().has_pin);
}

#[test]
fn a_reason_that_was_begun_is_left_out_where_the_pin_was_typed_after_all() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    says_why(&desk, &id, "Forgot");
    let record = desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
    assert!(record.parts.iter().flat_map(|part| &part.lines).all(|line| line.value != "Forgot"));
    assert!(record.warnings.iter().all(|said| said.code != "sign.without_pin"));
}

#[test]
fn a_visit_that_is_not_ready_costs_no_try() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), Some(domain::visit::Step::BackInService));
    for _ in 0..9 {
        assert_eq!(refused(&desk, &id, &by("4815")), "sign.not_ready");
    }
    for act in kit::dip().acts(domain::visit::Step::BackInService) {
        desk.phone.visit_change(&id, &act.change()).unwrap();
    }
    assert_eq!(desk.phone.visit_open(&id).unwrap().signing, None, "asked on the last step alone");
    desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
}

#[test]
fn a_pin_goes_with_its_person_into_the_hub_and_goes_with_an_erased_name() {
    let (desk, office) = (with_pin(), Office::new().unwrap());
    let id = play(&desk, &kit::known_empty(), None);
    mistypes(&desk, &id, 5);
    office.enrols(&desk.phone).unwrap();
    assert!(desk.phone.home().unwrap().has_pin, "she has another number now, and is the same");
    assert_eq!(refused(&desk, &id, &by(PIN)), "pin.waits", "and the count goes with it");
    desk.clock.pass(Duration::from_secs(30));
    let record = desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
    let signed = technician(&desk, &record);
    assert_eq!((signed.person, signed.confirmed), (PersonId([7; 16]), Confirmed::Pin));
    office.names(&desk.phone, 1, &[(7, "Asha Renn"), (9, "Cy Marsh")]).unwrap();
    assert!(desk.phone.home().unwrap().has_pin);
    office.names(&desk.phone, 2, &[(9, "Cy Marsh")]).unwrap();
    assert_eq!(rows(&desk), 0, "the hub erased her, and the phone did");
    let desk = desk.restarted();
    desk.phone.set_technician("Asha Renn").unwrap();
    assert!(!desk.phone.home().unwrap().has_pin, "who comes under her name is somebody else");
}

#[test]
fn nothing_of_a_pin_leaves_the_phone() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    let record = desk.phone.visit_sign_confirmed(&id, &by(PIN)).unwrap();
    let office = Office::new().unwrap();
    office.enrols(&desk.phone).unwrap();
    let export = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    let made = desk.phone.bundle_make().unwrap();
    let bundle = std::fs::read(&made.path).unwrap();
    let bundle = exchange::packed::unpack(&bundle, exchange::bundle::MOST_ON_PHONE).unwrap();
    for (what, bytes) in [("export", export), ("bundle", bundle)] {
        for part in [PIN.as_bytes(), b"argon2", b"pin of"] {
            assert!(!holds(&bytes, part), "the {what} holds {:?}", String::from_utf8_lossy(part));
        }
    }
    // Here it is kept as its hash alone.
    let kept = desk.on_storage();
    assert!(holds(&kept, b"$argon2id$v=19$m=19456,t=2,p=1$") && !holds(&kept, PIN.as_bytes()));
}

#[test]
fn a_pin_that_cannot_be_read_any_more_keeps_nobody_from_work() {
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    desk.phone.suspend().unwrap();
    let file = rusqlite::Connection::open(desk.folder.path().join("headmark.db")).unwrap();
    let spoilt = file.execute("UPDATE setting SET value = 'spoilt' WHERE name LIKE 'pin of %'", []);
    assert_eq!(spoilt.unwrap(), 1);
    drop(file);
    assert!(!desk.phone.home().unwrap().has_pin);
    let record = desk.phone.visit_sign(&id).unwrap();
    assert_eq!(technician(&desk, &record).confirmed, Confirmed::None);
    desk.phone.pin_set("271828", "271828").unwrap();
    let id = play(&desk, &kit::known_empty(), None);
    desk.phone.visit_sign_confirmed(&id, &by("271828")).unwrap();
}

#[test]
fn the_reason_stands_under_a_number_of_its_own() {
    // Frozen: signed records hold it.
    let desk = with_pin();
    let id = play(&desk, &kit::dip(), None);
    let without = desk.phone.visit_open(&id).unwrap().signing.unwrap().pin.unwrap().without;
    let field = without.reason.unwrap();
    assert_eq!(
        (without.code.as_str(), Spot::row(field.key, field.row)),
        ("sign.without_pin", Spot::row(Key::WarningReason, 40))
    );
}
