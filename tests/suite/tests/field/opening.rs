//! Opening a phone: first start, restart, suspend, a damaged file, a restored phone.

use std::fs;

use crate::desk::{Desk, open};

#[test]
fn a_fresh_phone_is_empty_and_says_so() {
    let home = Desk::new().phone.home().unwrap();
    assert_eq!((home.technician.as_str(), home.status.as_str()), ("", "No records on this phone yet"));
    assert_eq!((home.drafts, home.signed, home.instruments, home.messages), (vec![], vec![], 0, vec![]));
}

#[test]
fn who_works_here_outlives_a_restart() {
    let desk = Desk::new();
    desk.phone.set_technician("  Asha Renn ").unwrap();
    assert_eq!(desk.restarted().phone.home().unwrap().technician, "Asha Renn");
    let error = Desk::new().phone.set_technician(&"x".repeat(81)).unwrap_err();
    assert_eq!(error.code(), "answer.too_long");
}

#[test]
fn a_suspended_phone_opens_again_by_itself() {
    let desk = Desk::ready();
    desk.phone.suspend().unwrap();
    desk.phone.suspend().unwrap();
    assert_eq!(desk.phone.home().unwrap().technician, "Asha Renn");
}

#[test]
fn a_second_copy_of_the_app_is_told_to_close_the_first() {
    let desk = Desk::ready();
    let Err(error) = open(desk.folder.path(), &desk.clock, None) else {
        panic!("the file is held by the first");
    };
    assert_eq!(error.code(), "store.busy");
    assert!(error.is_retryable());
}

#[test]
fn a_damaged_file_is_put_aside_and_said_while_it_is_there() {
    let desk = Desk::ready();
    let file = desk.folder.path().join("headmark.db");
    let Desk { folder, clock, phone } = desk;
    phone.suspend().unwrap();
    drop(phone);
    let mut bytes = fs::read(&file).unwrap();
    bytes.iter_mut().skip(4096).for_each(|byte| *byte = 0xa5);
    fs::write(&file, bytes).unwrap();
    let phone = open(folder.path(), &clock, None).unwrap();
    let said = |phone: &field::Phone| phone.home().unwrap().messages;
    let messages = said(&phone);
    assert_eq!(messages.len(), 1);
    assert_eq!(messages[0].code, "store.put_aside");
    assert!(messages[0].text.contains("headmark.db.damaged-1"), "{}", messages[0].text);
    let path = folder.path().to_str().unwrap();
    assert!(!messages[0].text.contains(path), "no folder of a person's is shown");
    drop(phone);
    let phone = open(folder.path(), &clock, None).unwrap();
    assert_eq!(said(&phone), messages);
    fs::remove_file(folder.path().join("headmark.db.damaged-1")).unwrap();
    assert_eq!(said(&phone), []);
}

#[test]
fn after_damage_a_phone_of_a_hub_is_told_how_to_get_the_rest_back() {
    let desk = Desk::ready();
    kit::Office::new().unwrap().enrols(&desk.phone).unwrap();
    let Desk { folder, clock, phone } = desk;
    phone.suspend().unwrap();
    drop(phone);
    let file = folder.path().join("headmark.db");
    let mut bytes = fs::read(&file).unwrap();
    // The page of the settings, and no other.
    let at = bytes.windows(9).position(|nine| nine == b"Asha Renn").unwrap() / 4096 * 4096;
    bytes[at..at + 4096].fill(0xa5);
    fs::write(&file, bytes).unwrap();
    let messages = open(folder.path(), &clock, None).unwrap().home().unwrap().messages;
    assert_eq!(messages[0].code, "store.put_aside");
    assert!(messages[0].remedy.ends_with("the hub gives back what it has of the rest."), "{messages:?}");
}

#[test]
fn a_key_that_stayed_behind_begins_a_new_log_and_keeps_the_drafts() {
    let desk = Desk::ready();
    let id = desk.phone.visit_begin("LT-2041", domain::visit::Choice::ByList, "").unwrap().id;
    desk.phone.suspend().unwrap();
    // What a backup brings back: the data file, and not the key.
    let restored = tempfile::tempdir().unwrap();
    fs::copy(desk.folder.path().join("headmark.db"), restored.path().join("headmark.db")).unwrap();
    let phone = open(restored.path(), &desk.clock, None).unwrap();
    assert_eq!(phone.home().unwrap().drafts[0].id, id);
    let keys = |folder: &std::path::Path| fs::read_dir(folder.join("keys")).unwrap().count();
    assert_eq!((keys(desk.folder.path()), keys(restored.path())), (1, 1));
}
