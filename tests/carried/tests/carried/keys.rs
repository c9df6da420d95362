//! The next key of the server, of the hub and of the organisation, and an end to an old one: phones that are enrolled go
//! on, and what an old key signs afterwards counts in nothing.

use carried::{Hub, Phone, Proxy};

const TOM: [&str; 2] = ["--by", "Tom Achterberg"];

/// A phone that is enrolled and has sent.
fn enrolled(name: &str, hub: &Hub, by: &Proxy) -> Phone {
    let phone = Phone::new(name).unwrap();
    phone.enrol(hub, by).unwrap();
    phone.write(2).unwrap();
    phone.exchange(by).unwrap();
    assert_eq!(phone.received().unwrap(), phone.own().unwrap());
    phone
}

fn sends(phone: &Phone, by: &Proxy) {
    phone.write(1).unwrap();
    phone.exchange(by).unwrap_or_else(|error| panic!("{}: {error}", phone.name()));
    assert_eq!(phone.received().unwrap(), phone.own().unwrap(), "{}", phone.name());
}

fn pins(phone: &Phone) -> Vec<[u8; 32]> {
    phone.core().phone().way_to_hub().unwrap().unwrap().pins
}

#[test]
fn phones_send_on_after_the_servers_key_was_switched() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, away) = (enrolled("asha", &hub, &by), enrolled("away", &hub, &by));
    let first = pins(&asha);
    assert_eq!(first.len(), 2, "the current key and the next");
    hub.stop().unwrap();
    hub.call(&["key", "switch"]).unwrap();
    hub.serve().unwrap();
    sends(&asha, &by);

    // The further key: nobody can switch to it before phones can know it.
    let early = hub.call(&["key", "switch"]).unwrap_err();
    assert!(early.to_string().contains("do not know the next key"), "{early}");
    let key = hub.organisation_file();
    hub.call_by_organisation(&["key", "certify"], &key).unwrap();
    let again = hub.call_by_organisation(&["key", "certify"], &key).unwrap();
    assert!(again.contains("already"), "{again}");
    sends(&asha, &by);
    let second = pins(&asha);
    assert_eq!(second.iter().filter(|pin| first.contains(pin)).count(), 1, "the first key is let go");
    hub.stop().unwrap();
    hub.call(&["key", "switch"]).unwrap();
    hub.serve().unwrap();
    sends(&asha, &by);
    // Whoever missed both changes no longer knows the server, and tells so; enrolled anew it sends what it has.
    away.write(1).unwrap();
    away.exchange(&by).unwrap_err();
    away.enrol(&hub, &by).unwrap();
    sends(&away, &by);
}

#[test]
fn a_switch_that_was_cut_off_is_finished_by_the_same_command() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = enrolled("asha", &hub, &by);
    hub.stop().unwrap();
    let keys = hub.folder().join("keys");
    let next = std::fs::read(keys.join("tls-next.key.pem")).unwrap();
    // As it stands once the next key took its place and no further one is made.
    hub.call(&["key", "switch"]).unwrap();
    std::fs::write(keys.join("tls-next.key.pem"), &next).unwrap();
    hub.call(&["key", "switch"]).unwrap();
    assert_eq!(std::fs::read(keys.join("tls.key.pem")).unwrap(), next);
    assert_ne!(std::fs::read(keys.join("tls-next.key.pem")).unwrap(), next);
    hub.serve().unwrap();
    sends(&asha, &by);
}

#[test]
fn a_hub_with_a_new_key_goes_on_and_whoever_has_the_old_one_certifies_nobody() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = enrolled("asha", &hub, &by);
    let (old, organisation) = (hub.log().unwrap(), hub.organisation_file());
    let served =
        hub.call_by_organisation(&[&["key", "renew"], &TOM[..]].concat(), &organisation).unwrap_err();
    assert!(served.to_string().contains("Another hub process uses"), "{served}");
    hub.stop().unwrap();
    let mut thief = hub.copied("thief").unwrap();
    hub.call_by_organisation(&[&["key", "renew"], &TOM[..]].concat(), &organisation).unwrap();
    assert_ne!(hub.log().unwrap(), old);
    let status = hub.call(&["status"]).unwrap();
    assert!(status.contains(&format!("former hub {old}: revoked behind place")), "{status}");
    hub.serve().unwrap();
    // Nothing new to bring: the new epoch alone has everything compared and receipted anew.
    assert!(asha.exchange(&by).unwrap().new_epoch);
    assert_eq!(asha.received().unwrap(), asha.own().unwrap());
    sends(&asha, &by);

    // Whoever has the old machine certifies a phone of theirs with the old key.
    thief.serve().unwrap();
    let theirs = Proxy::to(thief.at()).unwrap();
    let rogue = enrolled("rogue", &thief, &theirs);
    rogue.exchange(&by).unwrap();
    assert_eq!(
        hub.held().unwrap().lacking(&rogue.own().unwrap()),
        rogue.own().unwrap(),
        "nothing of it is in"
    );
    assert!(hub.call(&["status"]).unwrap().contains("parked: "), "it is kept aside");
    assert_eq!(rogue.received().unwrap(), [], "the real hub is met, and nothing was received by it");
    // A phone that was told takes nothing from the old hub.
    let told = asha.exchange(&theirs);
    assert!(told.is_err(), "{told:?}");
    sends(&asha, &by);
}

#[test]
fn a_key_that_a_restore_left_trusted_is_put_away_once_all_came_back() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = enrolled("asha", &hub, &by);
    let (old, organisation) = (hub.log().unwrap(), hub.organisation_file());
    let backup = hub.backup("yesterday").unwrap();
    let late = enrolled("late", &hub, &by);
    hub.stop().unwrap();
    let thief = hub.copied("thief").unwrap();
    let restored = hub.restored(&backup).unwrap();
    let status = restored.call(&["status"]).unwrap();
    assert!(status.contains(&format!("former hub {old}: STILL TRUSTED")), "{status}");
    sends(&asha, &by);
    late.exchange(&by).unwrap();
    late.exchange(&by).unwrap();
    let revoke = ["key", "revoke", &old, "--reason", "the machine was replaced"];
    restored.call_by_organisation(&[&revoke, &TOM[..]].concat(), &organisation).unwrap();
    let own = restored.log().unwrap();
    let revoke = ["key", "revoke", &own, "--reason", "in use"];
    let used = restored.call_by_organisation(&[&revoke, &TOM[..]].concat(), &organisation).unwrap_err();
    assert!(used.to_string().contains("in use"), "{used}");
    // Its certificate came back before that and counts; nothing that the old key signs now does.
    sends(&late, &by);
    let mut thief = thief;
    thief.serve().unwrap();
    let theirs = Proxy::to(thief.at()).unwrap();
    let rogue = enrolled("rogue", &thief, &theirs);
    rogue.exchange(&by).unwrap();
    assert_eq!(restored.held().unwrap().lacking(&rogue.own().unwrap()).len(), 2);
}

#[test]
fn a_stolen_hubs_key_counts_for_nothing_behind_the_backup_from_the_first_moment() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = enrolled("asha", &hub, &by);
    let old = hub.log().unwrap();
    let backup = hub.backup("yesterday").unwrap();
    hub.stop().unwrap();
    let restored = hub.restored_by(&backup, &["--stolen", "--by", "Tom Achterberg"]).unwrap();
    let status = restored.call(&["status"]).unwrap();
    assert!(status.contains(&format!("former hub {old}: revoked behind place")), "{status}");
    sends(&asha, &by);
}

#[test]
fn the_organisations_next_key_is_followed_without_enrolling_anew() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = enrolled("asha", &hub, &by);
    let (old, new) = (hub.organisation_file(), hub.beside_folder("organisation-2.key"));
    let passphrase = hub.passphrase_file();
    let succeed = [
        "key",
        "succeed",
        "--to",
        new.to_str().unwrap(),
        "--new-passphrase-file",
        passphrase.to_str().unwrap(),
    ];
    hub.call_by_organisation(&succeed, &old).unwrap();
    let late = hub.call_by_organisation(&["key", "certify"], &old).unwrap_err();
    assert!(late.to_string().contains("named its successor"), "{late}");
    sends(&asha, &by);
    // What the new key alone has certified is trusted by a phone that knows the old one's fingerprint only.
    hub.stop().unwrap();
    hub.call(&["key", "switch"]).unwrap();
    hub.call_by_organisation(&["key", "certify"], &new).unwrap();
    hub.serve().unwrap();
    sends(&asha, &by);
    hub.stop().unwrap();
    hub.call(&["key", "switch"]).unwrap();
    hub.call_by_organisation(&[&["key", "renew"], &TOM[..]].concat(), &new).unwrap();
    hub.serve().unwrap();
    sends(&asha, &by);
    // And whoever comes new is enrolled by an invitation that names the first key.
    let ben = enrolled("ben", &hub, &by);
    sends(&ben, &by);
}
