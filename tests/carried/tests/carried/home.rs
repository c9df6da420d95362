//! A visit goes home: from the first code to the receipt.

use carried::{Hub, Phone, Proxy, whole};
use domain::visit::Step;

#[test]
fn a_visit_is_signed_sent_and_acknowledged() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();

    // The register comes with the first exchange; the visit is played as a person plays it.
    let first = asha.exchange(&by).unwrap();
    assert!(first.pages > 0 && first.sent == 0, "{first:?}");
    assert_eq!(asha.core().phone().home().unwrap().instruments, 5);
    let story = kit::dip();
    let id = asha.core().play(&story, Step::Sign).unwrap();
    asha.core().sign(&id, &story).unwrap();
    let own = asha.own().unwrap();
    assert!(!own.is_empty());
    assert_eq!(asha.received().unwrap(), []);
    let before = asha.status().unwrap();
    assert!(before.waits, "{}", before.line);

    let sent = asha.exchange(&by).unwrap();
    assert_eq!(sent.sent, own.len() as u64);
    assert_eq!((sent.left, &sent.refused, sent.bad), (0, &vec![], 0));
    assert_eq!(asha.received().unwrap(), own);
    let after = asha.status().unwrap();
    assert!(!after.waits && after.line.ends_with("at the hub"), "{}", after.line);
    let held = hub.held().unwrap();
    assert_eq!((held.lacking(&own), held.doubled()), (vec![], vec![]));

    // Once more: there is nothing left to say, and nothing comes twice.
    let again = asha.exchange(&by).unwrap();
    assert_eq!((again.sent, again.taken, again.pages), (0, 0, 0), "{again:?}");
}

#[test]
fn an_export_by_tag_holds_what_its_visits_cite_and_no_other_visit() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    let (story, core) = (kit::dip(), asha.core());
    let id = core.play(&story, Step::Evidence).unwrap();
    let photo = std::fs::read(kit::photo("label-lt-2041.jpg")).unwrap();
    core.phone().photo_add(&id, &core.upload(&photo).unwrap()).unwrap();
    core.play_on(&id, &story, Step::Sign).unwrap();
    core.sign(&id, &story).unwrap();
    let cited = asha.own().unwrap();
    assert_eq!(cited.len(), 2, "the photo's observation and the visit");
    let other = kit::known_empty();
    assert_ne!(other.tag, story.tag);
    let id = core.play(&other, Step::Sign).unwrap();
    core.sign(&id, &other).unwrap();
    asha.exchange(&by).unwrap();

    let file = hub.beside_folder("by-tag.bundle");
    let said = hub.call(&["export", file.to_str().unwrap(), "--tag", &story.tag]).unwrap();
    assert!(said.starts_with("2 records of 1 logs"), "{said}");
    let held = carried::Held::read(&std::fs::read(&file).unwrap()).unwrap();
    assert_eq!((held.lacking(&cited), held.count(asha.log().unwrap())), (vec![], 2));
    hub.call(&["verify", file.to_str().unwrap()]).unwrap();
}

#[test]
fn an_export_of_the_hub_proves_itself_and_a_hub_told_to_stop_ends_well() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    asha.write(5).unwrap();
    asha.exchange(&by).unwrap();
    hub.stop().unwrap();

    let file = hub.beside_folder("asha.headmark");
    let log = whole(asha.log().unwrap());
    hub.call(&["export", file.to_str().unwrap(), "--log", &log]).unwrap();
    let said = hub.call(&["verify", file.to_str().unwrap()]).unwrap();
    println!("{said}");
    let mut changed = std::fs::read(&file).unwrap();
    let middle = changed.len() / 2;
    changed[middle] ^= 1;
    std::fs::write(&file, changed).unwrap();
    hub.call(&["verify", file.to_str().unwrap()]).unwrap_err();

    hub.serve().unwrap();
    assert_eq!(asha.exchange(&by).unwrap().sent, 0);
}
