//! What is signed outside a chain: there and back, read by a public library, and nothing else taken.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a panic here is the message")]

use coset::{CoseSign1, RegisteredLabelWithPrivate, TaggedCborSerializable, iana};
use minicbor::Encoder;
use minicbor::data::Tag;
use proptest::prelude::*;
use record::cbor::Flaw;
use record::{
    Claimed, Error, Kind, Link, MAX_SIGNED, NewEntry, Part, Proof, PublicKey, SecretKey, Signature, Signer,
    open, open_signed, seal, sign_bytes, verify_with,
};
use rstest::rstest;

const AAD: &[u8] = b"headmark/page/1";
const PAYLOAD: &[u8] = b"\xa1\x01\x65hello";

fn asha() -> SecretKey {
    SecretKey::take(&mut [0xa5; 32])
}

fn taken(aad: &[u8], bytes: &[u8]) -> Result<(), Error> {
    open_signed(aad, bytes)?.verify(asha().public())
}

#[test]
fn what_is_signed_opens_and_verifies() {
    let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
    let signed = open_signed(AAD, &bytes).unwrap();
    assert_eq!((signed.log, signed.payload), (asha().public().log(), PAYLOAD));
    signed.verify(asha().public()).unwrap();
}

#[test]
fn a_public_library_reads_it() {
    let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
    let sign1 = CoseSign1::from_tagged_slice(&bytes).unwrap();
    let header = &sign1.protected.header;
    assert_eq!(header.alg, Some(RegisteredLabelWithPrivate::Assigned(iana::Algorithm::EdDSA)));
    assert_eq!((&header.content_type, &header.key_id[..]), (&None, &asha().public().log().0[..]));
    assert!(sign1.unprotected.is_empty());
    let holds = |signature: &[u8], message: &[u8]| {
        asha().public().holds(message, &Signature(signature.try_into().unwrap())).then_some(()).ok_or(())
    };
    sign1.verify_signature(AAD, holds).unwrap();
    assert!(sign1.verify_signature(b"headmark/page/2", holds).is_err());
}

/// Signed for one use it holds for no other, and what is an entry's stays an entry's.
#[rstest]
#[case::another_use(b"headmark/page/2")]
#[case::no_use(b"")]
#[case::an_entry(b"headmark/entry/1")]
fn holds_for_its_own_use_only(#[case] aad: &[u8]) {
    let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
    assert!(taken(AAD, &bytes).is_ok());
    assert!(taken(aad, &bytes).is_err());
}

#[test]
fn nothing_is_signed_for_the_use_of_entries() {
    let refused = sign_bytes(b"headmark/entry/1", PAYLOAD, &asha());
    assert!(matches!(refused, Err(Error::Malformed { part: Part::Signed, .. })));
}

#[test]
fn the_header_of_an_entry_is_not_taken() {
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let new = NewEntry { link: Link::First, kind: Kind(1), body_version: 1, claimed, boot: None };
    let entry = seal(&new, PAYLOAD, &asha()).unwrap().bytes;
    let mut from = minicbor::Decoder::new(&entry);
    from.array().unwrap();
    let refused = open_signed(AAD, from.bytes().unwrap()).map(|_| ());
    assert!(matches!(refused, Err(Error::Malformed { part: Part::Signed, .. })), "{refused:?}");
}

#[test]
fn the_key_of_another_log_is_told_apart_from_a_wrong_signature() {
    let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
    let other = SecretKey::take(&mut [0x5a; 32]);
    let signed = open_signed(AAD, &bytes).unwrap();
    let (ours, theirs) = (asha().public().log(), other.public().log());
    assert_eq!(signed.verify(other.public()), Err(Error::OtherSigner { signed: ours, key: theirs }));
    let mut wrong = bytes.clone();
    *wrong.last_mut().unwrap() ^= 1;
    assert_eq!(taken(AAD, &wrong), Err(Error::SignatureOf(ours)));
}

#[test]
fn no_byte_can_be_changed_or_left_out() {
    let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
    let mut changed = bytes.clone();
    for at in 0..bytes.len() {
        for by in 1..=255 {
            changed[at] = bytes[at] ^ by;
            assert!(taken(AAD, &changed).is_err(), "byte {at} was changed by {by} unseen");
        }
        changed[at] = bytes[at];
        assert!(taken(AAD, &bytes[..at]).is_err(), "cut at {at}");
        assert!(taken(AAD, &[&bytes[..at], &bytes[at + 1..]].concat()).is_err(), "byte {at} left out");
    }
    assert!(taken(AAD, &[&bytes[..], b"\x00"].concat()).is_err());
}

/// Signed with the right key and still not of the form: written by hand.
#[rstest]
#[case::a_content_type(b"\xa3\x01\x27\x03\x61x\x04\x58\x20", 18, 0)]
#[case::another_algorithm(b"\xa2\x01\x26\x04\x58\x20", 18, 0)]
#[case::no_algorithm(b"\xa1\x04\x58\x20", 18, 0)]
#[case::log_in_a_longer_form(b"\xa2\x01\x27\x04\x59\x00\x20", 18, 0)]
#[case::only_the_log(b"", 18, 0)]
#[case::another_tag(b"\xa2\x01\x27\x04\x58\x20", 98, 0)]
#[case::something_unprotected(b"\xa2\x01\x27\x04\x58\x20", 18, 1)]
fn refuses_other_forms(#[case] head: &[u8], #[case] tag: u64, #[case] unprotected: u8) {
    let by_hand = |head: &[u8], tag, unprotected: u8| {
        let protected = [head, &asha().public().log().0[..]].concat();
        let mut message = Encoder::new(Vec::new());
        message.array(4).unwrap().str("Signature1").unwrap().bytes(&protected).unwrap();
        message.bytes(AAD).unwrap().bytes(PAYLOAD).unwrap();
        let signature = asha().sign(message.writer()).unwrap();
        let mut out = Encoder::new(Vec::new());
        out.tag(Tag::new(tag)).unwrap().array(4).unwrap().bytes(&protected).unwrap();
        out.map(u64::from(unprotected)).unwrap();
        (0..unprotected).for_each(|n| {
            out.u8(n).unwrap().u8(n).unwrap();
        });
        out.bytes(PAYLOAD).unwrap().bytes(&signature.0).unwrap();
        out.into_writer()
    };
    let sound = by_hand(b"\xa2\x01\x27\x04\x58\x20", 18, 0);
    assert_eq!(sound, sign_bytes(AAD, PAYLOAD, &asha()).unwrap(), "by hand it is written as we write it");
    let refused = taken(AAD, &by_hand(head, tag, unprotected));
    assert!(matches!(refused, Err(Error::Malformed { part: Part::Signed, .. })), "{refused:?}");
}

#[rstest]
#[case::a_float(b"\xf9\x3c\x00", Flaw::Float)]
#[case::a_long_number(b"\x18\x01", Flaw::NotShortest)]
#[case::two_items(b"\x01\x01", Flaw::Trailing)]
#[case::nothing(b"", Flaw::CutShort)]
fn the_payload_is_deterministic(#[case] payload: &[u8], #[case] expected: Flaw) {
    let refused = sign_bytes(AAD, payload, &asha());
    assert!(matches!(refused, Err(Error::Cbor { part: Part::Signed, flaw, .. }) if flaw == expected));
}

/// The longest payload passes, and a byte more does not.
#[test]
fn the_longest_payload_is_just_that() {
    // A byte string of this length has a head of five bytes.
    let long = |bytes: usize| {
        let mut payload = Encoder::new(Vec::new());
        payload.bytes(&vec![0; bytes - 5]).unwrap();
        payload.into_writer()
    };
    let bytes = sign_bytes(AAD, &long(MAX_SIGNED), &asha()).unwrap();
    assert!(taken(AAD, &bytes).is_ok());
    let refused = sign_bytes(AAD, &long(MAX_SIGNED + 1), &asha());
    assert!(matches!(refused, Err(Error::TooLong { part: Part::Signed, limit: MAX_SIGNED, .. })));
    let refused = open_signed(AAD, &[&bytes[..], b"\x00"].concat()).map(|_| ());
    assert!(matches!(refused, Err(Error::TooLong { part: Part::Signed, .. })), "{refused:?}");
}

/// A cheap signer and the proof that belongs to it: the sum of the message's bytes.
struct Cheap(PublicKey);

fn sum(message: &[u8]) -> Signature {
    Signature([message.iter().fold(0, |sum: u8, byte| sum.wrapping_add(*byte)); 64])
}

impl Signer for Cheap {
    fn public(&self) -> &PublicKey {
        &self.0
    }

    fn sign(&self, message: &[u8]) -> Result<Signature, Error> {
        Ok(sum(message))
    }
}

struct Sums;

impl Proof for Sums {
    fn holds(&self, _: &PublicKey, message: &[u8], signature: &Signature) -> bool {
        *signature == sum(message)
    }
}

#[test]
fn another_proof_is_asked_and_the_strict_one_is_not() {
    let cheap = Cheap(asha().public().clone());
    let bytes = sign_bytes(AAD, PAYLOAD, &cheap).unwrap();
    let signed = open_signed(AAD, &bytes).unwrap();
    signed.verify_with(&cheap.0, &Sums).unwrap();
    assert!(matches!(signed.verify(&cheap.0), Err(Error::SignatureOf(_))));
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let new = NewEntry { link: Link::First, kind: Kind(1), body_version: 1, claimed, boot: None };
    let sealed = seal(&new, PAYLOAD, &cheap).unwrap();
    let entry = open(&sealed.bytes).unwrap();
    let proof: &dyn Proof = &Sums;
    verify_with(&entry, &cheap.0, proof).unwrap();
    assert!(matches!(record::verify(&entry, &cheap.0), Err(Error::BadSignature(_))));
    let other = SecretKey::take(&mut [0x5a; 32]);
    assert!(matches!(verify_with(&entry, other.public(), proof), Err(Error::OtherKey { .. })));
}

proptest! {
    #[test]
    fn near_the_form_never_panics(at in any::<prop::sample::Index>(), to in any::<u8>(), end in any::<prop::sample::Index>()) {
        let bytes = sign_bytes(AAD, PAYLOAD, &asha()).unwrap();
        let mut changed = bytes.clone();
        changed[at.index(bytes.len())] = to;
        changed.truncate(end.index(bytes.len() + 1));
        prop_assert_eq!(taken(AAD, &changed).is_ok(), changed == bytes);
    }
}
