//! The frozen example bytes of the exchange, version 1: its four messages, a page of the register feed, bundles, and where
//! a phone stands. `wire/exchange-1/README.md` and `wire/standpoint-1/README.md` say what the files hold.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use std::collections::BTreeMap;
use std::path::Path;

use bodies::{Epoch, HeldRun, PersonId};
use exchange::bundle::{self, Piece};
use exchange::have::HaveSet;
use exchange::message::{
    About, Answer, Cursor, Hello, PROTOCOL, Push, Refused, Welcome, read, read_push, session_of, write,
    write_push,
};
use exchange::page::{Named, PEOPLE, Page, SENSORS, Upsert};
use exchange::run::Wanted;
use exchange::standpoint::Standpoint;
use record::{Claimed, EntryId, Kind, Link, LogId, NewEntry, PayloadHash, Seq, Signer, Strict, seal};
use rstest::rstest;
use suite::key;

/// "Hash n" of the README: 0, n, 2n, ... modulo 256.
fn hash(n: usize) -> [u8; 32] {
    std::array::from_fn(|at| u8::try_from(at * n % 256).unwrap())
}

fn seq(number: u64) -> Seq {
    Seq::new(number).unwrap()
}

fn run(from: u64, to: u64, end: usize) -> HeldRun {
    HeldRun { from: seq(from), to: seq(to), end: PayloadHash(hash(end)) }
}

fn have() -> HaveSet {
    HaveSet(BTreeMap::from([
        (LogId(hash(3)), vec![run(1, 40, 5), run(38, 38, 7), run(44, 70_000, 9)]),
        (LogId(hash(11)), vec![]),
    ]))
}

fn hello() -> Hello {
    let key = key().public().cose().to_vec();
    Hello { protocol: PROTOCOL, key, have: have(), epoch: Some(Epoch(*b"epoch of example")) }
}

fn wanted() -> Vec<Wanted> {
    vec![Wanted { log: LogId(hash(3)), from: seq(41), to: seq(43), end: PayloadHash(hash(13)) }]
}

fn entry() -> Vec<u8> {
    let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 60 };
    let new = NewEntry { link: Link::First, kind: Kind(1), body_version: 1, claimed, boot: None };
    seal(&new, b"\x65hello", &key()).unwrap().bytes
}

fn welcome() -> Welcome {
    Welcome {
        protocol: PROTOCOL,
        epoch: Epoch(*b"the epoch after!"),
        session: hash(15),
        wanted: wanted(),
        keys: vec![key().public().cose().to_vec().into()],
        trust: vec![entry().into()],
    }
}

fn push() -> Push {
    Push {
        session: hash(15),
        keys: vec![key().public().cose().to_vec().into()],
        entries: vec![entry().into()],
        news: 70_000,
        areas: vec![
            Cursor { area: String::new(), version: 0 },
            Cursor { area: "Ost-Größe".into(), version: 23 },
        ],
        about: vec![About { log: LogId(hash(3)), receipts: vec![PayloadHash(hash(17))] }],
        have: Some(have()),
        last: true,
        lacks: None,
    }
}

/// The same of a phone whose file was damaged.
fn push_lacking() -> Push {
    let lacks = |log: usize, from: u64, to: u64, end: usize| Wanted {
        log: LogId(hash(log)),
        from: seq(from),
        to: seq(to),
        end: PayloadHash(hash(end)),
    };
    Push { lacks: Some(vec![lacks(3, 3, 5, 23), lacks(25, 1, 70_000, 27)]), ..push() }
}

fn answer() -> Answer {
    let id = EntryId { log: LogId(hash(3)), seq: seq(41), payload: PayloadHash(hash(19)) };
    Answer {
        session: hash(21),
        refused: vec![Refused { id, code: "full".into() }],
        wanted: wanted(),
        keys: vec![],
        entries: vec![entry().into()],
        news: 70_001,
        pages: vec![page().sign(&key()).unwrap().into()],
        more: false,
    }
}

fn page() -> Page {
    Page {
        epoch: Epoch(*b"epoch of example"),
        area: "Sedge Hill".into(),
        from: 23,
        to: 24,
        snapshot: false,
        upserts: vec![Upsert { tag: "LT-2041".into(), row: b"\xa0".to_vec().into() }],
        removals: vec!["LT-9".into()],
        sensors: None,
        people: None,
    }
}

/// The page of the table of sensors.
fn sensors() -> Page {
    let range = serde_json::json!({ "name": "low", "lrl": "-25 kPa", "url": "25 kPa", "turndown": "50",
        "max_working": "10 MPa", "accuracy": "0.055 %" });
    let table = bodies::SensorTable(vec![serde_json::from_value(range).unwrap()]).encode().unwrap();
    let nothing = Page { upserts: vec![], removals: vec![], ..page() };
    Page { area: SENSORS.into(), from: 0, to: 3, snapshot: true, sensors: Some(table.into()), ..nothing }
}

/// The page of the names of people.
fn people() -> Page {
    let named = |number: u8, name: &str| Named { person: PersonId([number; 16]), name: name.into() };
    let people = Some(vec![named(7, "Asha Renn"), named(9, "Tom Achterberg")]);
    let nothing = Page { upserts: vec![], removals: vec![], ..page() };
    Page { area: PEOPLE.into(), from: 0, to: 5, snapshot: true, people, ..nothing }
}

fn the_bundle() -> Vec<u8> {
    let mut bundle = bundle::Writer::new();
    bundle.key(key().public().cose());
    bundle.entry(&entry());
    bundle.page(&page().sign(&key()).unwrap());
    bundle.done()
}

fn standpoint() -> Standpoint {
    let Push { news, areas, about, .. } = push();
    Standpoint { epoch: Some(Epoch(*b"epoch of example")), news, areas, about }
}

/// As a phone writes one that belongs to a hub.
fn bundle_with_standpoint() -> Vec<u8> {
    let mut bundle = bundle::Writer::new();
    bundle.key(key().public().cose());
    bundle.standpoint(&standpoint().sign(&key()).unwrap());
    bundle.entry(&entry());
    bundle.done()
}

fn frozen(name: &str) -> Vec<u8> {
    frozen_in("exchange-1", name)
}

fn frozen_in(folder: &str, name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("wire").join(folder).join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The same content still makes the same bytes. Where this fails, phones and hubs in the field would no longer
/// understand each other: give the new form a new number, and leave the example alone.
#[rstest]
#[case::hello("hello.cbor", write(&hello()).unwrap())]
#[case::welcome("welcome.cbor", write(&welcome()).unwrap())]
#[case::push("push.cbor", write_push(&push(), &key()).unwrap())]
#[case::push_lacking("push-lacking.cbor", write_push(&push_lacking(), &key()).unwrap())]
#[case::answer("answer.cbor", write(&answer()).unwrap())]
#[case::page("page.cbor", page().sign(&key()).unwrap())]
#[case::sensors("page-sensors.cbor", sensors().sign(&key()).unwrap())]
#[case::people("page-people.cbor", people().sign(&key()).unwrap())]
#[case::bundle("bundle.cbor", the_bundle())]
fn the_example_would_be_made_again_to_the_byte(#[case] name: &str, #[case] made: Vec<u8>) {
    assert!(made == frozen(name), "{name}");
}

#[test]
fn the_messages_say_what_was_said() {
    assert_eq!(read::<Hello>(&frozen("hello.cbor")).unwrap(), hello());
    assert_eq!(read::<Welcome>(&frozen("welcome.cbor")).unwrap(), welcome());
    assert_eq!(read::<Answer>(&frozen("answer.cbor")).unwrap(), answer());
    for (name, said) in [("push.cbor", push()), ("push-lacking.cbor", push_lacking())] {
        let bytes = frozen(name);
        assert_eq!(session_of(&bytes).unwrap(), hash(15));
        let read = read_push(&bytes, |_| Some(key().public().clone()), &Strict).unwrap();
        assert_eq!(read, said, "{name}");
    }
}

#[test]
fn the_page_and_the_bundle_say_what_was_said() {
    let signed = Page::open(&frozen("page.cbor"), key().public(), &Strict).unwrap();
    assert_eq!((signed.hub, signed.page), (key().public().log(), page()));
    let table = Page::open(&frozen("page-sensors.cbor"), key().public(), &Strict).unwrap();
    assert_eq!(table.page, sensors());
    let names = Page::open(&frozen("page-people.cbor"), key().public(), &Strict).unwrap();
    assert_eq!(names.page, people());
    let bytes = frozen("bundle.cbor");
    let (pieces, cut) = bundle::read(&bytes).unwrap();
    let (entry, page) = (entry(), frozen("page.cbor"));
    let key = key();
    assert_eq!(pieces, [Piece::Key(key.public().cose()), Piece::Entry(&entry), Piece::Page(&page)]);
    assert_eq!(cut, None);
}

#[rstest]
#[case::standpoint("standpoint.cbor", standpoint().sign(&key()).unwrap())]
#[case::standpoint_of_nobody("standpoint-unmet.cbor", Standpoint::default().sign(&key()).unwrap())]
#[case::bundle("bundle.cbor", bundle_with_standpoint())]
fn where_a_phone_stands_would_be_said_again_to_the_byte(#[case] name: &str, #[case] made: Vec<u8>) {
    assert!(made == frozen_in("standpoint-1", name), "{name}");
}

#[test]
fn where_a_phone_stands_is_what_was_said() {
    let bytes = frozen_in("standpoint-1", "standpoint.cbor");
    assert_eq!(Standpoint::signer_of(&bytes).unwrap(), key().public().log());
    assert_eq!(Standpoint::open(&bytes, key().public(), &Strict).unwrap(), standpoint());
    let unmet = frozen_in("standpoint-1", "standpoint-unmet.cbor");
    assert_eq!(Standpoint::open(&unmet, key().public(), &Strict).unwrap(), Standpoint::default());
    let (entry, key) = (entry(), key());
    let pieces = [Piece::Key(key.public().cose()), Piece::Standpoint(&bytes), Piece::Entry(&entry)];
    let bundle = frozen_in("standpoint-1", "bundle.cbor");
    assert_eq!(bundle::read(&bundle).unwrap(), (pieces.to_vec(), None));
}

/// It holds for nothing else, and nothing else for it.
#[test]
fn where_a_phone_stands_is_refused_where_it_was_changed_anywhere() {
    let bytes = frozen_in("standpoint-1", "standpoint.cbor");
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 1;
        assert!(Standpoint::open(&changed, key().public(), &Strict).is_err(), "byte {at}");
    }
    assert!(Page::open(&bytes, key().public(), &Strict).is_err());
    assert!(Standpoint::open(&frozen("page.cbor"), key().public(), &Strict).is_err());
}

/// A byte changed anywhere in a push makes it nobody's.
#[test]
fn a_push_that_was_changed_anywhere_proves_nothing() {
    let bytes = frozen("push.cbor");
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 1;
        let read = read_push(&changed, |_| Some(key().public().clone()), &Strict);
        assert!(read.is_err(), "byte {at}");
    }
}

#[test]
fn a_page_that_was_changed_anywhere_is_refused() {
    let bytes = frozen("page.cbor");
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 1;
        assert!(Page::open(&changed, key().public(), &Strict).is_err(), "byte {at}");
    }
}

#[rstest]
#[case::hello("hello.cbor", |bytes: &[u8]| read::<Hello>(bytes).is_err())]
#[case::welcome("welcome.cbor", |bytes: &[u8]| read::<Welcome>(bytes).is_err())]
#[case::answer("answer.cbor", |bytes: &[u8]| read::<Answer>(bytes).is_err())]
fn a_message_that_breaks_off_anywhere_is_refused(#[case] name: &str, #[case] refused: fn(&[u8]) -> bool) {
    let bytes = frozen(name);
    for cut in 0..bytes.len() {
        assert!(refused(&bytes[..cut]), "cut at {cut}");
    }
    assert!(refused(&[bytes, vec![0]].concat()), "something behind it");
}
