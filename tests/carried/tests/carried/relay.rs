//! A phone without any signal, and a colleague's that carries its records home and the hub's word back.

use carried::{Hub, Phone, Proxy};

/// Hands a file of everything that waits from one phone to another.
fn hand(from: &Phone, to: &Phone) -> String {
    to.takes_file(&from.writes_file().unwrap()).unwrap().text
}

#[test]
fn records_come_home_by_another_phone_and_the_receipt_comes_back_the_same_way() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let (asha, ben) = (Phone::new("asha").unwrap(), Phone::new("ben").unwrap());
    for phone in [&asha, &ben] {
        phone.enrol(&hub, &by).unwrap();
        phone.exchange(&by).unwrap();
    }
    let written = asha.write(3).unwrap();
    ben.write(1).unwrap();
    hand(&asha, &ben);
    assert_eq!(asha.received().unwrap(), [], "handed on is not received");
    let sent = ben.exchange(&by).unwrap();
    assert!(sent.sent >= 4 && sent.refused.is_empty(), "{sent:?}");
    assert_eq!(hub.held().unwrap().lacking(&written), []);
    // Ben's is at the hub for himself; of Asha's he knows it for her.
    assert_eq!(ben.received().unwrap(), ben.own().unwrap());
    ben.exchange(&by).unwrap();
    let before = asha.status().unwrap().line;
    assert!(before.contains("only here"), "nobody has told her yet: {before}");
    hand(&ben, &asha);
    assert_eq!(asha.received().unwrap(), written, "by the hub's own signature");

    // With signal again there is nothing left to bring but her own word that she now holds Ben's.
    let sent = asha.exchange(&by).unwrap();
    assert_eq!((sent.sent, sent.left), (1, 0), "{sent:?}");
    assert_eq!(asha.received().unwrap(), asha.own().unwrap());
    let held = hub.held().unwrap();
    assert_eq!((held.doubled(), held.count(asha.log().unwrap())), (vec![], 4));
}
