//! What fifty visits weigh on the wire, and how often the word goes to and fro.

use carried::{Hub, Phone, Proxy, fifty};

/// How hard the same entries in one file are packed, to be compared with.
const HARD: i32 = 19;

#[test]
fn fifty_visits_weigh_at_most_a_tenth_more_than_packed_in_one_file_and_take_three_rounds() {
    let fifty = fifty().unwrap();
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let phone = Phone::of_fifty(kit::Phone::new().unwrap()).unwrap();
    phone.enrol(&hub, &by).unwrap();
    // The register and all that enrolment brings were fetched in the office.
    phone.exchange(&by).unwrap();
    assert_eq!(phone.exchange(&by).unwrap().taken, 0);
    phone.take_fifty(&fifty).unwrap();
    let _ = by.counted();

    let sent = phone.exchange(&by).unwrap();
    let counted = by.counted();
    assert_eq!((sent.sent, phone.received().unwrap().len()), (50, 50));
    let held = hub.held().unwrap();
    assert_eq!(held.lacking(&phone.own().unwrap()), []);

    let raw: usize = fifty.entries.iter().map(Vec::len).sum();
    let packed = zstd::bulk::compress(&fifty.entries.concat(), HARD).unwrap().len() as u64;
    let (after, all) = (counted.up_after + counted.down_after, counted.up + counted.down);
    println!("50 visits, {raw} bytes; in one file, packed by zstd -{HARD}: {packed}");
    println!(
        "on the wire after the handshake: {} up, {} down, {after} together: {:.3} of the file, {} a visit",
        counted.up_after,
        counted.down_after,
        after as f64 / packed as f64,
        after / 50
    );
    println!("with TCP and the handshake of TLS: {} up, {} down, {all} together", counted.up, counted.down);
    println!("round trips after the handshake: {}; connections: {}", counted.rounds, counted.connections);
    assert!(after * 100 <= packed * 110, "{after} bytes are more than 1.10 times {packed}");
    assert!(counted.rounds <= 3 && counted.rounds == u64::from(sent.rounds), "{counted:?} {sent:?}");
    assert_eq!(counted.connections, 1);
}
