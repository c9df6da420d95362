//! Photos on a phone, at a hub and in its backups: freed where they are safe, and never called received where they are not.

use carried::{Hub, Phone, Proxy, Way, database};
use carry::photos::AtHub;
use domain::visit::Step;
use kit::Story;
use store::PhotoState;

/// Makes a visit with one photo, and returns the record's id and the photo.
fn visit(phone: &Phone, story: &Story, label: &str) -> (String, Vec<u8>) {
    let core = phone.core();
    let bytes = std::fs::read(kit::photo(label)).unwrap();
    let id = core.play(story, Step::Evidence).unwrap();
    core.phone().photo_add(&id, &core.upload(&bytes).unwrap()).unwrap();
    core.play_on(&id, story, Step::Sign).unwrap();
    (core.sign(&id, story).unwrap().id, bytes)
}

fn whereabouts(phone: &Phone, record: &str) -> String {
    phone.core().phone().record(record).unwrap().whereabouts
}

fn enrolled(hub: &Hub, name: &str) -> (Phone, Proxy) {
    let by = Proxy::to(hub.at()).unwrap();
    let phone = Phone::new(name).unwrap();
    phone.enrol(hub, &by).unwrap();
    // The register, for the visits.
    phone.exchange(&by).unwrap();
    (phone, by)
}

fn freed(phone: &Phone) -> String {
    phone.core().phone().photos_free().unwrap()
}

#[test]
fn a_restored_hub_has_the_photos_that_phones_freed_and_asks_again_for_those_since() {
    let mut hub = Hub::founded().unwrap();
    let (asha, by) = enrolled(&hub, "asha");
    let (first, bytes) = visit(&asha, &kit::dip(), "label-lt-2041.jpg");
    let safe = store::photo_hash(&bytes);
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(whereabouts(&asha, &first), "Received by the hub with 1 photo");
    assert!(freed(&asha).starts_with("Nothing was freed"), "received is not backed up");
    let backup = hub.backup("yesterday").unwrap();
    assert!(freed(&asha).starts_with("Nothing was freed"), "nobody has told the phone yet");
    asha.exchange(&by).unwrap();
    assert_eq!(whereabouts(&asha, &first), "Received by the hub with 1 photo, and in its backup");
    assert!(freed(&asha).starts_with("1 photo was taken off this phone"));
    assert_eq!(asha.store().photo_state(safe).unwrap(), Some(PhotoState::Freed));

    // After the backup: another visit, all of it received, and none of it safe.
    let (second, since) = visit(&asha, &kit::known_empty(), "label-lt-3107.jpg");
    let since = store::photo_hash(&since);
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(whereabouts(&asha, &second), "Received by the hub with 1 photo");
    assert!(freed(&asha).starts_with("Nothing was freed"));
    hub.kill().unwrap();

    let restored = hub.restored(&backup).unwrap();
    assert!(asha.exchange(&by).unwrap().new_epoch);
    asha.exchange(&by).unwrap();
    assert_eq!(asha.photo_at_hub(safe, &by).unwrap(), AtHub::Whole);
    assert_eq!(whereabouts(&asha, &first), "Received by the hub with 1 photo");
    assert_eq!(asha.photo_at_hub(since, &by).unwrap(), AtHub::UpTo(0));
    assert_eq!(whereabouts(&asha, &second), "Record sent, 1 photo still here");
    let line = asha.status().unwrap().line;
    assert_eq!(line, "All 2 records are at the hub, 1 photo still here");
    // What an earlier life of the hub had in its backup says nothing of this one.
    assert!(freed(&asha).starts_with("Nothing was freed"));
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(whereabouts(&asha, &second), "Received by the hub with 1 photo");
    assert_eq!(asha.store().photo_state(since).unwrap(), Some(PhotoState::Here));
    restored.backup("today").unwrap();
    asha.exchange(&by).unwrap();
    for record in [&first, &second] {
        assert_eq!(whereabouts(&asha, record), "Received by the hub with 1 photo, and in its backup");
    }
    assert!(freed(&asha).starts_with("1 photo was taken off this phone"));
}

#[test]
fn a_photo_that_was_freed_and_is_in_no_backup_that_is_left_is_called_nowhere() {
    let mut hub = Hub::founded().unwrap();
    let (asha, by) = enrolled(&hub, "asha");
    let older = hub.backup("monday").unwrap();
    let (record, bytes) = visit(&asha, &kit::dip(), "label-lt-2041.jpg");
    let photo = store::photo_hash(&bytes);
    asha.send_all(&by).unwrap();
    hub.backup("tuesday").unwrap();
    asha.exchange(&by).unwrap();
    assert!(freed(&asha).starts_with("1 photo was taken off this phone"));
    hub.kill().unwrap();

    // The newer backup is lost with the hub's disk.
    let _restored = hub.restored(&older).unwrap();
    assert_eq!(asha.send_all(&by).unwrap().whole, 0);
    assert_eq!(asha.received().unwrap(), asha.own().unwrap(), "the records came back");
    assert_eq!(asha.photo_at_hub(photo, &by).unwrap(), AtHub::UpTo(0));
    assert_eq!(whereabouts(&asha, &record), "Record sent, 1 photo neither here nor at the hub");
    let line = asha.status().unwrap().line;
    assert_eq!(line, "The record is at the hub, 1 photo neither here nor at the hub");
    // The same file from elsewhere closes the gap.
    asha.store().keep_photo(&bytes, "image/jpeg").unwrap();
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(whereabouts(&asha, &record), "Received by the hub with 1 photo");
}

#[test]
fn a_photo_that_a_running_hub_lost_is_brought_again_by_the_phone_that_has_it() {
    let hub = Hub::founded().unwrap();
    let (asha, by) = enrolled(&hub, "asha");
    let (record, bytes) = visit(&asha, &kit::dip(), "label-lt-2041.jpg");
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    let name: String = store::photo_hash(&bytes).0.iter().map(|byte| format!("{byte:02x}")).collect();
    let file = hub.folder().join("photos/photos").join(&name[..2]).join(&name);
    let mut spoilt = bytes.clone();
    spoilt[100] ^= 1;
    std::fs::write(file, spoilt).unwrap();
    let to = hub.beside_folder("monday");
    let said = hub.call(&["backup", to.to_str().unwrap()]).unwrap();
    for word in [name.as_str(), "LT-2041", "asha", "lost or spoilt"] {
        assert!(said.contains(word), "{said}");
    }
    asha.exchange(&by).unwrap();
    assert_eq!(whereabouts(&asha, &record), "Record sent, 1 photo still here");
    assert!(freed(&asha).starts_with("Nothing was freed"));
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(whereabouts(&asha, &record), "Received by the hub with 1 photo");
    hub.backup("tuesday").unwrap();
    asha.exchange(&by).unwrap();
    assert_eq!(whereabouts(&asha, &record), "Received by the hub with 1 photo, and in its backup");
}

#[test]
fn on_postgres_a_photo_comes_by_two_processes_and_out_of_the_backup_again() {
    let mut hub = Hub::founded_on(database("photos").unwrap()).unwrap();
    let mut second = hub.beside().unwrap();
    let (asha, by) = enrolled(&hub, "asha");
    let bytes: Vec<u8> = (0..600_000_u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let (photo, _) = asha.photograph(&bytes).unwrap();
    asha.exchange(&by).unwrap();
    // The first piece by the one, then the link breaks, and the rest goes by the other.
    by.cuts_after(Way::Up, 300_000);
    asha.send_photos(&by).unwrap_err();
    by.cuts_no_more();
    by.leads_to(second.at());
    assert_eq!(asha.photo_at_hub(photo, &by).unwrap(), AtHub::UpTo(256 * 1024));
    assert_eq!(asha.send_all(&by).unwrap().whole, 1);
    assert_eq!(asha.store().photos_to_send().unwrap(), []);
    let backup = hub.backup("copy").unwrap();
    asha.exchange(&by).unwrap();
    assert!(freed(&asha).starts_with("1 photo was taken off this phone"));
    second.kill().unwrap();
    hub.kill().unwrap();

    let restored = hub.restored(&backup).unwrap();
    by.leads_to(restored.at());
    asha.send_all(&by).unwrap();
    assert_eq!(asha.photo_at_hub(photo, &by).unwrap(), AtHub::Whole);
    let line = asha.status().unwrap().line;
    assert!(!line.contains("neither"), "{line}");
}
