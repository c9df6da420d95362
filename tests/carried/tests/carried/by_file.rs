//! Records go home without a network: as a file, which is answered by one.

use std::path::Path;

use carried::{Hub, Phone, Proxy};
use domain::visit::Step;

/// Hands a file to the hub and returns the one that goes back, and what the hub said.
fn handed_in(hub: &Hub, file: &Path, back: &str) -> (std::path::PathBuf, String) {
    let back = hub.beside_folder(back);
    let said = hub.call(&["import", file.to_str().unwrap(), "--back", back.to_str().unwrap()]).unwrap();
    (back, said)
}

#[test]
fn a_visit_counts_as_received_once_the_file_that_was_carried_back_is_taken_in() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    // From here on nothing goes over the wire. The register comes by the first file.
    let _ = by.counted();
    let (back, said) = handed_in(&hub, &asha.writes_file().unwrap(), "first.headmark-bundle");
    assert!(said.starts_with("0 records are new and kept"), "{said}");
    asha.takes_file(&back).unwrap();
    assert_eq!(asha.core().phone().home().unwrap().instruments, 5);

    let story = kit::dip();
    let id = asha.core().play(&story, Step::Sign).unwrap();
    asha.core().sign(&id, &story).unwrap();
    let own = asha.own().unwrap();
    let file = asha.writes_file().unwrap();
    let (back, said) = handed_in(&hub, &file, "second.headmark-bundle");
    assert!(said.starts_with(&format!("{} records are new and kept", own.len())), "{said}");
    assert!(said.contains("0 pages of the register"), "the phone stands at the end of it: {said}");
    assert_eq!(asha.received().unwrap(), [], "nothing is received before the phone has the receipt");
    assert!(asha.status().unwrap().waits);
    let report = asha.takes_file(&back).unwrap();
    assert_eq!(report.messages, []);
    assert_eq!(asha.received().unwrap(), own);
    let after = asha.status().unwrap();
    assert!(!after.waits && after.line.ends_with("at the hub"), "{}", after.line);
    assert_eq!(by.counted().connections, 0);

    // The same files again change nothing.
    let (back, said) = handed_in(&hub, &file, "third.headmark-bundle");
    assert!(said.starts_with("0 records are new and kept"), "{said}");
    assert_eq!(asha.takes_file(&back).unwrap().text, "Nothing in the file was new here.");
    let held = hub.held().unwrap();
    assert_eq!((held.lacking(&own), held.doubled()), (vec![], vec![]));
    // And over the wire there is nothing left to bring.
    assert_eq!(asha.exchange(&by).unwrap().sent, 0);
}

#[test]
fn what_another_phone_carried_is_answered_through_that_phone() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, ben) = (Phone::new("asha").unwrap(), Phone::new("ben").unwrap());
    asha.enrol(&hub, &by).unwrap();
    ben.enrol(&hub, &by).unwrap();
    let own = asha.write(4).unwrap();
    ben.takes_file(&asha.writes_file().unwrap()).unwrap();
    let (back, _) = handed_in(&hub, &ben.writes_file().unwrap(), "for-ben.headmark-bundle");
    ben.takes_file(&back).unwrap();
    assert_eq!(ben.received().unwrap(), ben.own().unwrap());
    assert_eq!(asha.received().unwrap(), []);
    asha.takes_file(&ben.writes_file().unwrap()).unwrap();
    assert_eq!(asha.received().unwrap(), own);
}

#[test]
fn a_stranger_waits_parked_and_a_file_that_breaks_off_says_so() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let stranger = Phone::new("stranger").unwrap();
    let own = stranger.write(3).unwrap();
    let file = stranger.writes_file().unwrap();
    let (back, said) = handed_in(&hub, &file, "nobody.headmark-bundle");
    assert!(said.contains("3 records wait, parked"), "{said}");
    assert!(said.contains("No phone of this hub is in the file") && !back.exists(), "{said}");
    let judged = hub.call(&["import", file.to_str().unwrap(), "--dry-run"]).unwrap();
    assert!(judged.ends_with("Nothing was taken.\n"), "{judged}");

    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    let written = asha.write(40).unwrap();
    let whole = std::fs::read(asha.writes_file().unwrap()).unwrap();
    let unpacked = exchange::packed::unpack(&whole, exchange::bundle::MOST).unwrap();
    let cut = hub.beside_folder("cut.headmark-bundle");
    std::fs::write(&cut, exchange::packed::pack(&unpacked[..unpacked.len() - 10]).unwrap()).unwrap();
    // The exit tells a script; what came whole is kept all the same.
    hub.call(&["import", cut.to_str().unwrap()]).unwrap_err();
    let held = hub.held().unwrap();
    assert_eq!(held.lacking(&written), written[39..]);

    // What was parked counts once its phone is enrolled.
    stranger.enrol(&hub, &by).unwrap();
    assert_eq!(hub.held().unwrap().lacking(&own), []);
}
