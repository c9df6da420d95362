//! Sealing, opening and verifying; the chain; the exported file.
#![allow(clippy::expect_used, reason = "a panic here is the message")]

use coset::{
    CborSerializable, CoseKey, CoseSign1, RegisteredLabel, RegisteredLabelWithPrivate,
    TaggedCborSerializable, iana,
};
use proptest::prelude::*;
use record::{
    Boot, BootMark, Claimed, Error, Kind, Link, MAX_BODY, NewEntry, Part, PublicKey, Sealed, SecretKey, Seq,
    Signature, Signer, check_chain, open, read_export, seal, verify, write_export,
};
use rstest::rstest;

/// A body that says nothing.
const BODY: &[u8] = b"\xa1\x01\x65hello";

fn asha() -> SecretKey {
    SecretKey::take(&mut [0xa5; 32])
}

fn new(link: Link) -> NewEntry {
    let claimed = Claimed { millis: 1_790_000_000_000, offset_minutes: -300 };
    let boot = BootMark::new(&[9; 16]).map(|mark| Boot { elapsed_millis: 86_400_000, mark });
    NewEntry { link, kind: Kind(1), body_version: 1, claimed, boot }
}

fn sealed(link: Link, body: &[u8]) -> Sealed {
    seal(&new(link), body, &asha()).expect("a sound entry is sealed")
}

#[test]
fn what_is_sealed_opens_and_verifies() {
    let made = sealed(Link::First, BODY);
    let entry = open(&made.bytes).unwrap();
    verify(&entry, asha().public()).unwrap();
    assert_eq!((entry.id, &entry.header, entry.body), (made.id, &made.header, BODY));
    assert_eq!(entry.header.log, asha().public().log());
    assert_eq!(entry.header.seq, Seq::FIRST);
}

#[test]
fn the_secret_is_taken_out_of_the_buffer() {
    let mut bytes = [0xa5; 32];
    let key = SecretKey::take(&mut bytes);
    assert_eq!(bytes, [0; 32]);
    assert!(!format!("{key:?}").contains("a5a5"));
}

/// RFC 8032, section 7.1, test 2: key and signature of a published vector pass through our types.
#[test]
fn signs_as_published() {
    let mut secret = hex("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb");
    let key = SecretKey::take(&mut secret);
    let public = hex("3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c");
    assert_eq!(key.public().cose()[10..], public);
    let half = "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da";
    let other = "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00";
    let expected = [hex(half), hex(other)].concat();
    assert_eq!(key.sign(&[0x72]).unwrap().0[..], expected);
    assert!(key.public().holds(&[0x72], &Signature(expected.try_into().unwrap())));
}

fn hex(text: &str) -> [u8; 32] {
    std::array::from_fn(|at| u8::from_str_radix(&text[2 * at..2 * at + 2], 16).expect("hex digits"))
}

#[test]
fn a_public_library_reads_it() {
    let made = sealed(Link::First, BODY);
    let mut from = minicbor::Decoder::new(&made.bytes);
    from.array().unwrap();
    let sign1 = CoseSign1::from_tagged_slice(from.bytes().unwrap()).unwrap();
    let header = &sign1.protected.header;
    assert_eq!(header.alg, Some(RegisteredLabelWithPrivate::Assigned(iana::Algorithm::EdDSA)));
    let content_type = RegisteredLabel::Text("application/vnd.headmark.entry+cbor".into());
    assert_eq!(header.content_type, Some(content_type));
    assert_eq!(header.key_id, asha().public().log().0);
    assert!(sign1.unprotected.is_empty());
    sign1
        .verify_signature(b"headmark/entry/1", |signature, message| {
            let signature = Signature(signature.try_into().unwrap());
            asha().public().holds(message, &signature).then_some(()).ok_or("the signature does not hold")
        })
        .unwrap();
    let key = CoseKey::from_slice(asha().public().cose()).unwrap();
    assert_eq!(key.kty, coset::KeyType::Assigned(iana::KeyType::OKP));
    assert_eq!(key.alg, Some(coset::Algorithm::Assigned(iana::Algorithm::EdDSA)));
}

#[test]
fn every_changed_byte_is_refused() {
    let made = sealed(Link::First, BODY);
    let key = asha();
    for at in 0..made.bytes.len() {
        for bit in 0..8 {
            let mut changed = made.bytes.clone();
            changed[at] ^= 1 << bit;
            let refused = open(&changed).and_then(|entry| verify(&entry, key.public()));
            assert!(refused.is_err(), "byte {at}, bit {bit} was changed unseen");
        }
    }
}

#[test]
fn every_cut_is_refused() {
    let made = sealed(Link::First, BODY);
    for end in 0..made.bytes.len() {
        assert!(open(&made.bytes[..end]).is_err(), "cut at {end}");
    }
    assert!(open(&[&made.bytes[..], b"\x00"].concat()).is_err());
}

#[test]
fn another_key_does_not_verify() {
    let other = SecretKey::take(&mut [1; 32]);
    let made = sealed(Link::First, BODY);
    let entry = open(&made.bytes).unwrap();
    let expected = Error::OtherKey { entry: made.id, key: other.public().log() };
    assert_eq!(verify(&entry, other.public()), Err(expected));
}

#[rstest]
#[case::no_cbor(b"\xff")]
#[case::a_float(b"\xfb\x3f\xf1\x99\x99\x99\x99\x99\x9a")]
#[case::two_items(b"\x01\x01")]
#[case::nothing(b"")]
fn no_such_body_is_sealed(#[case] body: &[u8]) {
    assert!(matches!(seal(&new(Link::First), body, &asha()), Err(Error::Cbor { part: Part::Body, .. })));
}

#[test]
fn limits_are_kept_on_both_sides() {
    // A byte string of 256 KiB with its head: five bytes too many.
    let filled = |length: usize| {
        [&[0x5a][..], &u32::try_from(length).unwrap().to_be_bytes(), &vec![0; length]].concat()
    };
    let most = filled(MAX_BODY - 5);
    assert!(open(&sealed(Link::First, &most).bytes).is_ok());
    let error = seal(&new(Link::First), &filled(MAX_BODY - 4), &asha()).unwrap_err();
    assert_eq!(error, Error::TooLong { part: Part::Body, length: MAX_BODY + 1, limit: MAX_BODY });
    assert!(error.to_string().contains("Shorten"), "a size limit names the way out: {error}");
}

#[test]
fn refuses_an_offset_that_no_place_has() {
    let far = Claimed { millis: 0, offset_minutes: 1081 };
    assert!(seal(&NewEntry { claimed: far, ..new(Link::First) }, BODY, &asha()).is_err());
}

#[test]
fn unknown_kinds_and_versions_are_opened_like_any() {
    let unknown = NewEntry { kind: Kind(4_000_000_000), body_version: 77, ..new(Link::First) };
    let made = seal(&unknown, BODY, &asha()).unwrap();
    let entry = open(&made.bytes).unwrap();
    assert_eq!((entry.header.kind, entry.header.body_version), (Kind(4_000_000_000), 77));
    verify(&entry, asha().public()).unwrap();
}

#[rstest]
#[case::not_cbor(vec![0xff; 42])]
#[case::short(asha().public().cose()[..41].to_vec())]
// The neutral point: every signature by it would hold for every message.
#[case::weak([&asha().public().cose()[..10], &[1], &[0; 31]].concat())]
fn refuses_keys(#[case] bytes: Vec<u8>) {
    assert!(matches!(PublicKey::from_cose(&bytes), Err(Error::NotAKey(_))));
}

fn three() -> [Sealed; 3] {
    let one = sealed(Link::First, BODY);
    let two = sealed(one.next(), b"\x02");
    let three = sealed(two.next(), b"\x03");
    [one, two, three]
}

#[test]
fn a_chain_holds_and_gaps_are_told() {
    let made = three();
    let entries: Vec<_> = made.iter().map(|sealed| open(&sealed.bytes).unwrap()).collect();
    assert_eq!(check_chain(&entries), Ok(vec![]));
    let gaps = check_chain(&[entries[0].clone(), entries[2].clone()]).unwrap();
    assert_eq!(gaps.iter().map(|gap| (gap.from.get(), gap.to)).collect::<Vec<_>>(), [(2, 2)]);
    let swapped = check_chain(&[entries[1].clone(), entries[0].clone()]);
    assert_eq!(swapped, Err(Error::OutOfOrder { after: entries[1].id.seq, found: entries[0].id }));
}

#[test]
fn a_replaced_entry_breaks_the_chain() {
    let [one, two, _] = three();
    let other = sealed(Link::First, b"\x01");
    let entries = [open(&other.bytes).unwrap(), open(&two.bytes).unwrap()];
    assert_eq!(check_chain(&entries), Err(Error::BrokenChain(two.id)));
    assert_ne!(one.id, other.id, "one place, two payloads: two entries");
}

#[test]
fn an_export_comes_back_as_it_was() {
    let made = three();
    let key = asha();
    let file = write_export(key.public(), made.iter().map(|sealed| &sealed.bytes[..])).unwrap();
    let export = read_export(&file).unwrap();
    assert_eq!(&export.key, key.public());
    assert!(export.entries.iter().map(|entry| entry.bytes).eq(made.iter().map(|sealed| &sealed.bytes[..])));
    let changed = |at: usize| [&file[..at], &[file[at] ^ 1], &file[at + 1..]].concat();
    assert!((0..file.len()).all(|at| read_export(&changed(at)).is_err()));
}

#[test]
fn an_export_that_nobody_could_read_is_not_written() {
    let [one, two, _] = three();
    let key = asha();
    assert!(write_export(key.public(), []).is_err());
    assert!(write_export(key.public(), [&two.bytes[..], &one.bytes[..]]).is_err());
    let other = SecretKey::take(&mut [1; 32]);
    assert!(write_export(other.public(), [&one.bytes[..]]).is_err());
}

/// A key store that is locked.
struct Locked(SecretKey);

impl Signer for Locked {
    fn public(&self) -> &PublicKey {
        self.0.public()
    }

    fn sign(&self, _: &[u8]) -> Result<Signature, Error> {
        Err(Error::NotSigned("the key store is locked".into()))
    }
}

#[test]
fn a_signer_that_refuses_is_told_as_such() {
    let error = seal(&new(Link::First), BODY, &Locked(asha())).unwrap_err();
    assert!(error.to_string().contains("nothing is lost"), "{error}");
}

proptest! {
    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        prop_assert!(open(&bytes).is_err());
        prop_assert!(read_export(&bytes).is_err());
    }

    #[test]
    fn every_header_comes_back(
        millis in any::<i64>(), offset_minutes in -1080i16..=1080, kind in any::<u32>(), body_version in any::<u32>(),
        elapsed_millis in any::<u64>(), mark in proptest::collection::vec(any::<u8>(), 0..40),
        before in proptest::option::of((1u64..i64::MAX.unsigned_abs(), any::<[u8; 32]>())),
    ) {
        let link = before.map_or(Link::First, |(seq, hash)| Link::After {
            seq: Seq::new(seq).expect("in range"), payload: record::PayloadHash(hash),
        });
        let boot = BootMark::new(&mark).map(|mark| Boot { elapsed_millis, mark });
        let claimed = Claimed { millis, offset_minutes };
        let new = NewEntry { link, kind: Kind(kind), body_version, claimed, boot };
        let made = seal(&new, BODY, &asha()).unwrap();
        let entry = open(&made.bytes).unwrap();
        prop_assert!(verify(&entry, asha().public()).is_ok());
        prop_assert_eq!(&entry.header, &made.header);
        prop_assert_eq!((entry.header.previous, entry.header.claimed), (link.previous(), claimed));
        prop_assert_eq!(&entry.header.boot, &new.boot);
    }
}
