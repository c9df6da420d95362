//! The hub's photos in an object store that speaks S3, which goes away and comes back.

use carried::{Hub, Objects, Phone, Proxy, Way};
use carry::LinkError;
use carry::photos::AtHub;

fn picture(seed: u32, length: u32) -> Vec<u8> {
    (0..length).map(|at| (at.wrapping_add(seed).wrapping_mul(2_654_435_761) >> 24) as u8).collect()
}

#[test]
fn photos_go_into_an_object_store_wait_while_it_is_away_and_come_out_of_a_backup() {
    let objects = Objects::folder("carried").unwrap();
    let way = Proxy::to(objects.at()).unwrap();
    let mut hub = Hub::founded_with(objects.by(way.at())).unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(&hub, &by).unwrap();
    let (large, _) = asha.photograph(&picture(1, 600_000)).unwrap();
    let (small, _) = asha.photograph(&picture(2, 100)).unwrap();
    asha.exchange(&by).unwrap();

    // The link breaks in the second piece; the first one is in the store.
    by.cuts_after(Way::Up, 300_000);
    asha.send_photos(&by).unwrap_err();
    by.cuts_no_more();
    assert_eq!(asha.photo_at_hub(large, &by).unwrap(), AtHub::UpTo(256 * 1024));

    // The store goes away: the phone is told to come again, records go all the same, and nothing is called received.
    drop(way);
    let refused = asha.send_photos(&by).unwrap_err();
    let again = |wait: &Option<u32>| wait.is_some_and(|seconds| seconds < 60);
    assert!(
        matches!(&refused, carry::Error::Link(LinkError::Refused { status: 503, wait, .. }) if again(wait)),
        "{refused:?}"
    );
    asha.write(1).unwrap();
    asha.exchange(&by).unwrap();
    assert_eq!(asha.received().unwrap(), asha.own().unwrap());
    assert_eq!(asha.store().photos_to_send().unwrap().len(), 2);
    let to = hub.beside_folder("none").into_os_string().into_string().unwrap();
    let error = hub.call(&["backup", &to]).unwrap_err().to_string();
    assert!(error.contains("cannot be reached"), "a backup without its photos is none: {error}");

    // It comes back by another address; the hub's process is a new one, and the pieces that were there count.
    hub.kill().unwrap();
    hub.keep_photos_in(objects);
    hub.serve().unwrap();
    assert_eq!(asha.photo_at_hub(large, &by).unwrap(), AtHub::UpTo(256 * 1024));
    assert_eq!(asha.send_all(&by).unwrap().whole, 2);
    assert_eq!(asha.store().photos_to_send().unwrap(), []);

    // Out of the backup into another folder of the store.
    let backup = hub.backup("copy").unwrap();
    asha.exchange(&by).unwrap();
    assert!(asha.core().phone().photos_free().unwrap().starts_with("2 photos were taken off this phone"));
    hub.kill().unwrap();
    let restored = hub.restored_to(&backup, Some(Objects::folder("restored").unwrap())).unwrap();
    by.leads_to(restored.at());
    asha.send_all(&by).unwrap();
    for photo in [large, small] {
        assert_eq!(asha.photo_at_hub(photo, &by).unwrap(), AtHub::Whole);
    }
    assert!(!asha.status().unwrap().line.contains("neither"));
}
