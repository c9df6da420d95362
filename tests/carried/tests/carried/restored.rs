//! The hub's disk is lost, and a backup of yesterday is all there is.

use carried::{Hub, Phone, Proxy};

#[test]
fn after_a_restore_phones_give_back_what_came_after_the_backup() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let phones: Vec<Phone> = ["asha", "ben"].map(|name| Phone::new(name).unwrap()).into();
    for phone in &phones {
        phone.enrol(&hub, &by).unwrap();
        phone.write(4).unwrap();
        phone.exchange(&by).unwrap();
    }
    let backup = hub.backup("yesterday").unwrap();
    for phone in &phones {
        phone.write(5).unwrap();
        phone.exchange(&by).unwrap();
        assert_eq!(phone.received().unwrap().len(), 9);
    }
    // One was enrolled after the backup: the restored hub has never heard of it.
    let late = Phone::new("late").unwrap();
    late.enrol(&hub, &by).unwrap();
    late.write(2).unwrap();
    late.exchange(&by).unwrap();
    let before = hub.held().unwrap();
    hub.kill().unwrap();

    let restored = hub.restored(&backup).unwrap();
    let lost: Vec<_> = phones.iter().flat_map(|phone| phone.own().unwrap()).collect();
    assert_eq!(restored.held().unwrap().lacking(&lost).len(), 10);
    for phone in &phones {
        phone.write(1).unwrap();
        let sent = phone.exchange(&by).unwrap();
        assert!(sent.new_epoch, "{}", phone.name());
        let own = phone.own().unwrap();
        assert_eq!((own.len(), phone.received().unwrap()), (10, own.clone()), "{}", phone.name());
    }
    for _ in 0..2 {
        late.exchange(&by).unwrap();
    }
    let held = restored.held().unwrap();
    for phone in phones.iter().chain([&late]) {
        let own = phone.own().unwrap();
        assert_eq!(held.lacking(&own), [], "{}", phone.name());
        assert_eq!(phone.received().unwrap(), own, "{}", phone.name());
    }
    assert_eq!(held.doubled(), []);
    // What the hub itself had said after its backup came back too.
    let gone = before.without(&held);
    assert_eq!(gone, [], "not given back");
}

/// What a hub lost may say that a phone is trusted no more. Until somebody has looked through the phones, it says so.
#[test]
fn a_phone_that_was_revoked_after_the_backup_and_comes_first_is_marked_until_the_phones_are_looked_through() {
    let mut hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, lost) = (Phone::new("asha").unwrap(), Phone::new("lost").unwrap());
    for phone in [&asha, &lost] {
        phone.enrol(&hub, &by).unwrap();
        phone.write(2).unwrap();
        phone.exchange(&by).unwrap();
    }
    let backup = hub.backup("yesterday").unwrap();
    hub.revoke(lost.log().unwrap(), 2, "left on a train").unwrap();
    asha.exchange(&by).unwrap();
    hub.kill().unwrap();

    let restored = hub.restored(&backup).unwrap();
    let said = |arguments: &[&str]| restored.call(arguments).unwrap();
    let its = || said(&["phones"]).lines().find(|line| line.contains("\"lost\"")).unwrap().to_owned();
    let marked = || said(&["visits"]).matches("phones were not looked through").count();
    assert!(said(&["status"]).contains("RESTORED: revocations since"));
    // The field goes on: what the phone wrote since is taken in, acknowledged, and marked.
    lost.write(3).unwrap();
    lost.exchange(&by).unwrap();
    assert_eq!(lost.received().unwrap(), lost.own().unwrap());
    assert!(its().ends_with("up to place 5"), "{}", its());
    assert_eq!(marked(), 3);
    // Whoever heard of the revocation brings it home.
    asha.exchange(&by).unwrap();
    assert!(its().ends_with("up to place 5, REVOKED behind place 2"), "{}", its());
    assert_eq!(marked(), 3);
    said(&["phones", "--looked-through", "--by", "Tom Achterberg"]);
    assert_eq!(marked(), 0);
    assert!(!said(&["status"]).contains("RESTORED"));
    assert!(its().ends_with("REVOKED behind place 2"), "{}", its());
}
