//! Names of people: written down at the hub, shown on phones, erased on both.

use bodies::Visit;
use carried::{Hub, Phone, Proxy};
use domain::visit::Step;
use field::view::{Confirming, RecordView};

fn signs(phone: &Phone) -> RecordView {
    let story = kit::dip();
    let id = phone.core().play(&story, Step::Sign).unwrap();
    phone.core().sign(&id, &story).unwrap()
}

fn shown(phone: &Phone, record: &RecordView) -> String {
    phone.core().phone().record(&record.id).unwrap().technician
}

#[test]
fn a_phones_owner_is_who_the_hub_says_and_an_erased_name_is_gone_from_both() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    hub.call(&["person", "add", "Asha Renn", "--no-sign-in"]).unwrap();
    asha.enrol_for("Asha Renn", &hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    let record = signs(&asha);
    asha.exchange(&by).unwrap();
    // The number in the record is the one that the hub wrote down for the person.
    let listed = hub.call(&["person", "list"]).unwrap();
    let line = listed.lines().find(|line| line.ends_with("Asha Renn")).unwrap();
    let kept = asha.own().unwrap().last().copied().unwrap();
    let place = store::Place { log: store::LogId::of(kept.log), seq: store::Seq::of(kept.seq) };
    let entry = asha.store().entry(place).unwrap().unwrap().entry.bytes;
    let visit = Visit::of_entry(&record::open(&entry).unwrap()).unwrap();
    let number: String = visit.technician.person.0.iter().map(|byte| format!("{byte:02x}")).collect();
    assert!(line.starts_with(&number), "{number} in {listed}");
    assert!(hub.call(&["visits"]).unwrap().contains("Asha Renn"));

    hub.call(&["person", "rename", "Asha Renn", "Asha Moor"]).unwrap();
    asha.exchange(&by).unwrap();
    assert_eq!(shown(&asha, &record), "Asha Moor");
    hub.call(&["person", "remove", "Asha Moor"]).unwrap();
    asha.exchange(&by).unwrap();
    assert!(shown(&asha, &record).contains("no name here"), "{}", shown(&asha, &record));
    assert!(hub.call(&["visits"]).unwrap().contains(&format!("person {number}")));
    // Nobody is without a number: a name can be put to it again.
    hub.call(&["person", "add", "A. Moor", "--no-sign-in", "--number", &number]).unwrap();
    asha.exchange(&by).unwrap();
    assert_eq!(shown(&asha, &record), "A. Moor");
}

#[test]
fn the_list_of_visits_says_how_who_signed_was_confirmed() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    signs(&asha);
    let phone = asha.core().phone();
    phone.pin_set("481516", "481516").unwrap();
    let story = kit::known_empty();
    let id = asha.core().play(&story, Step::Sign).unwrap();
    for act in story.acts(Step::Sign) {
        phone.visit_change(&id, &act.change()).unwrap();
    }
    phone.visit_sign_confirmed(&id, &Confirming::Pin { pin: "481516".into() }).unwrap();
    asha.exchange(&by).unwrap();
    let list = hub.call(&["visits"]).unwrap();
    let line =
        |tag: &str| list.lines().find(|line| line.starts_with(tag)).unwrap_or_else(|| panic!("{list}"));
    assert!(line("LT-2041").contains(", not confirmed  "), "{list}");
    assert!(line("LT-3107").contains(", confirmed by PIN  "), "{list}");
}
