//! The link is cut anywhere, in either direction.

use carried::{Chance, Hub, Phone, Proxy, Way};
use rstest::rstest;

#[rstest]
#[case::up(Way::Up)]
#[case::down(Way::Down)]
fn cut_at_fifty_bytes_drawn_by_chance_nothing_is_lost_and_nothing_comes_twice(#[case] way: Way) {
    let (mut chance, beginning) = Chance::anew().unwrap();
    println!("HEADMARK_CHANCE={beginning}");
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    // How long one is, handshake included.
    asha.write(3).unwrap();
    let _ = by.counted();
    asha.exchange(&by).unwrap();
    let whole = by.counted();
    let whole = if way == Way::Up { whole.up } else { whole.down };
    let mut broke = 0;
    for _ in 0..50 {
        let at = chance.between(1, whole);
        asha.write(3).unwrap();
        by.cuts_after(way, at);
        let sent = asha.exchange(&by);
        broke += u32::from(sent.is_err());
        by.cuts_no_more();
        // What it was told is true, however the link broke.
        let told = asha.received().unwrap();
        if sent.is_ok() {
            assert_eq!(told, asha.own().unwrap(), "{way:?} at {at}");
        }
        let after = asha.exchange(&by).unwrap();
        assert!(after.left == 0 && after.refused.is_empty() && after.bad == 0, "{way:?} at {at}: {after:?}");
        assert_eq!(asha.received().unwrap(), asha.own().unwrap(), "{way:?} at {at}");
    }
    println!("{broke} of 50 cuts within {whole} bytes broke an exchange");
    assert!(broke > 25, "{broke}");
    let (held, own) = (hub.held().unwrap(), asha.own().unwrap());
    assert_eq!(own.len(), 3 * 51);
    assert_eq!((held.lacking(&own), held.doubled()), (vec![], vec![]));
    assert_eq!(held.count(asha.log().unwrap()), own.len());
}
