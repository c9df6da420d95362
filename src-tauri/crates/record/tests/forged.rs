//! Entries that are signed with the right key and still not of the format: made here by hand, refused by `open`.
#![allow(clippy::unwrap_used, reason = "a panic here is the message")]

use minicbor::Encoder;
use minicbor::data::Tag;
use record::{BodyHash, Error, Part, SecretKey, Signer, open, verify};
use rstest::rstest;

const BODY: &[u8] = b"\x01";

fn key() -> SecretKey {
    SecretKey::take(&mut [0xa5; 32])
}

/// What is written by hand; each test changes one thing.
struct Parts {
    protected: Vec<u8>,
    payload: Vec<(u64, Vec<u8>)>,
    /// How many entries the map of the unprotected header claims; each is `{n: n}`.
    unprotected: u8,
    tag: u64,
    body: Vec<u8>,
}

impl Parts {
    fn sound() -> Parts {
        let log = key().public().log().0;
        let number = |number: i64| minicbor::to_vec(number).unwrap();
        let bytes = |bytes: &[u8]| [&[0x58, 0x20], bytes].concat();
        let payload = vec![
            (1, number(1)),
            (2, bytes(&log)),
            (3, number(1)),
            (5, number(1)),
            (6, number(1)),
            (7, bytes(&BodyHash::of(BODY).0)),
            (8, number(1)),
            (9, number(0)),
            (10, number(0)),
        ];
        Parts { protected: protected(-8, &log), payload, unprotected: 0, tag: 18, body: BODY.to_vec() }
    }

    /// Puts a field in, in place of the one there was.
    fn with(mut self, field: u64, value: &[u8]) -> Parts {
        self.payload.retain(|(key, _)| *key != field);
        self.payload.push((field, value.to_vec()));
        self.payload.sort();
        self
    }

    fn without(mut self, field: u64) -> Parts {
        self.payload.retain(|(key, _)| *key != field);
        self
    }

    fn payload(&self) -> Vec<u8> {
        let mut out = Encoder::new(Vec::new());
        out.map(self.payload.len() as u64).unwrap();
        for (key, value) in &self.payload {
            out.u64(*key).unwrap().writer_mut().extend_from_slice(value);
        }
        out.into_writer()
    }

    /// Signs it, as anyone who holds the key could.
    fn entry(&self) -> Vec<u8> {
        let payload = self.payload();
        let mut message = Encoder::new(Vec::new());
        message.array(4).unwrap().str("Signature1").unwrap().bytes(&self.protected).unwrap();
        message.bytes(b"headmark/entry/1").unwrap().bytes(&payload).unwrap();
        let signature = key().sign(message.writer()).unwrap();
        let mut sign1 = Encoder::new(Vec::new());
        sign1.tag(Tag::new(self.tag)).unwrap().array(4).unwrap().bytes(&self.protected).unwrap();
        sign1.map(u64::from(self.unprotected)).unwrap();
        for n in 1..=self.unprotected {
            sign1.u8(n).unwrap().u8(n).unwrap();
        }
        sign1.bytes(&payload).unwrap().bytes(&signature.0).unwrap();
        let mut entry = Encoder::new(Vec::new());
        entry.array(2).unwrap().bytes(sign1.writer()).unwrap().bytes(&self.body).unwrap();
        entry.into_writer()
    }
}

fn protected(algorithm: i8, log: &[u8]) -> Vec<u8> {
    let mut out = Encoder::new(Vec::new());
    out.map(3).unwrap().u8(1).unwrap().i8(algorithm).unwrap().u8(3).unwrap();
    out.str("application/vnd.headmark.entry+cbor").unwrap().u8(4).unwrap().bytes(log).unwrap();
    out.into_writer()
}

/// Without this the refusals below could be for any reason.
#[test]
fn the_hand_made_entry_is_sound() {
    let bytes = Parts::sound().entry();
    verify(&open(&bytes).unwrap(), key().public()).unwrap();
}

#[rstest]
#[case::forerunner_at_the_first_place(Parts::sound().with(4, &[&[0x58, 0x20][..], &[7; 32]].concat()))]
#[case::no_forerunner_at_the_second(Parts::sound().with(3, b"\x02"))]
#[case::place_zero(Parts::sound().with(3, b"\x00"))]
#[case::place_beyond_the_last(Parts::sound().with(3, b"\x1b\x80\x00\x00\x00\x00\x00\x00\x00"))]
#[case::a_field_too_many(Parts::sound().with(13, b"\x00"))]
#[case::format_zero(Parts::sound().with(1, b"\x00"))]
#[case::no_format(Parts::sound().without(1))]
#[case::no_log(Parts::sound().without(2))]
#[case::no_kind(Parts::sound().without(5))]
#[case::no_body_version(Parts::sound().without(6))]
#[case::no_body_hash(Parts::sound().without(7))]
#[case::no_body_length(Parts::sound().without(8))]
#[case::no_time(Parts::sound().without(9))]
#[case::no_offset(Parts::sound().without(10))]
#[case::offset_too_large(Parts::sound().with(10, b"\x19\x04\x39"))]
#[case::elapsed_without_mark(Parts::sound().with(11, b"\x01"))]
#[case::mark_without_elapsed(Parts::sound().with(12, b"\x41\x01"))]
#[case::mark_without_bytes(Parts::sound().with(11, b"\x01").with(12, b"\x40"))]
#[case::short_hash(Parts::sound().with(7, b"\x41\x01"))]
#[case::text_for_a_number(Parts::sound().with(5, b"\x61\x31"))]
fn refuses_payloads(#[case] parts: Parts) {
    let refused = open(&parts.entry()).map(|entry| entry.id);
    assert!(matches!(refused, Err(Error::Malformed { part: Part::Payload, .. })), "{refused:?}");
}

#[rstest]
#[case::something_unprotected(Parts { unprotected: 1, ..Parts::sound() })]
#[case::another_tag(Parts { tag: 17, ..Parts::sound() })]
#[case::another_algorithm(Parts { protected: protected(-7, &key().public().log().0), ..Parts::sound() })]
#[case::another_log(Parts { protected: protected(-8, &[0; 32]), ..Parts::sound() })]
#[case::nothing_protected(Parts { protected: vec![], ..Parts::sound() })]
fn refuses_headers(#[case] parts: Parts) {
    let refused = open(&parts.entry()).map(|entry| entry.id);
    assert!(matches!(refused, Err(Error::Malformed { part: Part::Header, .. })), "{refused:?}");
}

#[rstest]
#[case::another_body(Parts { body: vec![0x02], ..Parts::sound() })]
#[case::another_length(Parts::sound().with(8, b"\x02"))]
fn refuses_bodies(#[case] parts: Parts) {
    assert!(matches!(open(&parts.entry()), Err(Error::BodyChanged(_))));
}

#[test]
fn refuses_a_body_that_is_not_deterministic() {
    let body = b"\xf9\x3c\x00";
    let hash = [&[0x58, 0x20], &BodyHash::of(body).0[..]].concat();
    let parts = Parts { body: body.to_vec(), ..Parts::sound().with(7, &hash).with(8, b"\x03") };
    assert!(matches!(open(&parts.entry()), Err(Error::Cbor { part: Part::Body, at: 0, .. })));
}

#[test]
fn refuses_a_payload_in_another_order() {
    let mut parts = Parts::sound();
    parts.payload.reverse();
    assert!(matches!(open(&parts.entry()), Err(Error::Cbor { part: Part::Payload, .. })));
}

#[test]
fn keeps_entries_of_a_later_format() {
    let bytes = Parts::sound().with(1, b"\x02").with(13, b"\x61x").entry();
    let entry = open(&bytes).unwrap();
    assert_eq!((entry.header.format, entry.bytes), (2, &bytes[..]));
    verify(&entry, key().public()).unwrap();
}
