//! Who is no hub of ours, and who is no phone of ours any more.

use carried::{Hub, Phone, Proxy, whole};
use carry::LinkError;
use record::LogId;

#[test]
fn another_hub_at_the_address_hears_nothing_and_is_named_as_what_it_is() {
    let (hub, other) = (Hub::founded().unwrap(), Hub::founded().unwrap());
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    let written = asha.write(3).unwrap();
    by.leads_to(other.at());
    let _ = by.counted();

    let error = asha.exchange(&by).unwrap_err();
    assert!(matches!(error, carry::Error::Link(LinkError::WrongServer)), "{error}");
    let counted = by.counted();
    // Only an alert goes under the handshake's key: its 2 bytes, a type, a tag of 16 and the record's head of 5.
    assert!(counted.up_after == 0 && counted.connections == 1, "{counted:?}");
    let held = other.held().unwrap();
    assert_eq!(held.lacking(&written), written);
    assert_eq!(asha.received().unwrap(), []);

    by.leads_to(hub.at());
    asha.exchange(&by).unwrap();
    assert_eq!(asha.received().unwrap(), written);
}

#[test]
fn a_code_that_leads_to_another_organisations_hub_is_not_said_to_it() {
    let (hub, other) = (Hub::founded().unwrap(), Hub::founded().unwrap());
    let by = Proxy::to(other.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    let code = hub.invitation("asha").unwrap();
    let error = asha.ask_with(&code, &by).unwrap_err();
    let not_ours = Some(&carry::http::EnrolError::NotCertified);
    assert_eq!(error.downcast_ref(), not_ours, "{error}");
    // It is as good as it was.
    by.leads_to(hub.at());
    asha.ask_with(&code, &by).unwrap();
}

#[test]
fn what_a_revoked_phone_signs_is_kept_and_counts_in_nothing() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, lost) = (Phone::new("asha").unwrap(), Phone::new("lost").unwrap());
    asha.enrol(&hub, &by).unwrap();
    lost.enrol(&hub, &by).unwrap();
    let good = lost.write(3).unwrap();
    lost.exchange(&by).unwrap();
    let log: LogId = lost.log().unwrap();
    hub.revoke(log, 2, "left on a train").unwrap();
    let bad = lost.write(2).unwrap();
    lost.exchange(&by).unwrap();

    // Nothing is thrown away, and everybody is told.
    let held = hub.held().unwrap();
    assert_eq!(held.lacking(&[good.clone(), bad.clone()].concat()), []);
    let status = hub.call(&["status"]).unwrap();
    let line = status.lines().find(|line| line.contains(&whole(log))).unwrap();
    assert!(line.ends_with("REVOKED behind place 2"), "{line}");
    asha.exchange(&by).unwrap();
    for phone in [&asha, &lost] {
        let trust = exchange::session::Ledger::trust(phone.store()).unwrap();
        let last = trust.revoked(log).unwrap().unwrap();
        assert_eq!((last.seq.get(), last.payload), (2, good[1].payload), "{}", phone.name());
    }
    asha.write(1).unwrap();
    asha.exchange(&by).unwrap();
    assert_eq!(asha.received().unwrap(), asha.own().unwrap());
}
