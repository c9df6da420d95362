//! Visits as bodies: what goes in comes out, and nothing else is taken.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a panic here is the message"
)]

mod any_visit;
#[path = "../kinds/fields.rs"]
mod fields;

use any_visit::visit;
use bodies::{Confirmed, Error, VISIT, VISIT_VERSION, Visit};
use domain::visit::{Choice, Key, PieceKind, ResultKey, Timing};
use fields::with_field;
use minicbor::Decoder;
use minicbor::data::Type;
use proptest::prelude::*;
use record::cbor::{Flaw, check};
use record::{Claimed, Kind, Link, MAX_BODY, NewEntry, PayloadHash, SecretKey, open, seal};
use rstest::rstest;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn every_visit_comes_back(visit in visit()) {
        let body = visit.encode().unwrap();
        prop_assert_eq!(check(&body), Ok(()));
        prop_assert_eq!(Visit::decode(VISIT_VERSION, &body), Ok(visit));
    }

    #[test]
    fn one_visit_has_one_form(visit in visit()) {
        let body = visit.encode().unwrap();
        let read = Visit::decode(VISIT_VERSION, &body).unwrap();
        prop_assert_eq!(read.encode().unwrap(), body);
    }

    /// A changed byte is another visit or none: it never reads as the same one.
    #[test]
    fn no_two_bodies_are_one_visit(visit in visit(), at in any::<prop::sample::Index>(), to in any::<u8>()) {
        let body = visit.encode().unwrap();
        let mut changed = body.clone();
        let at = at.index(body.len());
        changed[at] = to;
        prop_assume!(changed != body);
        prop_assert!(Visit::decode(VISIT_VERSION, &changed) != Ok(visit));
    }

    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        prop_assert!(Visit::decode(VISIT_VERSION, &bytes).is_err());
    }
}

fn one() -> Visit {
    any_visit::plain()
}

#[rstest]
#[case::no_model(1, None)]
#[case::no_technician(3, None)]
#[case::no_beginning(4, None)]
#[case::no_instrument(5, None)]
#[case::no_verdict(9, None)]
#[case::text_for_the_model(1, Some(&b"\x61\x31"[..]))]
#[case::short_person(3, Some(&b"\x82\x41\x01\x64none"[..]))]
#[case::unknown_confirmation(3, Some(&b"\x82\x50________________\x63yes"[..]))]
#[case::unknown_kind_of_evidence(6, Some(&b"\x81\x83\x01\x63egg\x66before"[..]))]
#[case::piece_too_short(6, Some(&b"\x81\x82\x01\x63dip"[..]))]
#[case::answer_too_short(7, Some(&b"\x81\x84\x18\x64\x00\x00\x60"[..]))]
#[case::number_without_its_tag(8, Some(&b"\x81\x83\x01\x82\x00\x01\x61m"[..]))]
#[case::exponent_too_large(8, Some(&b"\x81\x83\x01\xc4\x82\x18\x80\x01\x61m"[..]))]
// One millisecond more than 64 bits hold, counted from a beginning after 1970.
#[case::time_out_of_range(7, Some(&b"\x81\x85\x18\x64\x00\x00\x60\x1b\x7f\xff\xff\xff\xff\xff\xff\xff"[..]))]
fn refuses_what_is_no_visit(#[case] field: u64, #[case] value: Option<&[u8]>) {
    let body = with_field(&one().encode().unwrap(), field, value);
    assert_eq!(check(&body), Ok(()), "the case is about the visit, not about its CBOR");
    assert!(matches!(Visit::decode(VISIT_VERSION, &body), Err(Error::Malformed { .. })));
}

#[rstest]
#[case::a_number_with_a_zero_at_its_end(8, b"\x81\x83\x01\xc4\x82\x20\x0a\x61m")]
#[case::an_empty_list(10, b"\x80")]
#[case::an_empty_text(2, b"\x60")]
fn refuses_other_forms(#[case] field: u64, #[case] value: &[u8]) {
    let body = with_field(&one().encode().unwrap(), field, Some(value));
    assert_eq!(Visit::decode(VISIT_VERSION, &body), Err(Error::OtherForm));
}

#[rstest]
#[case::a_float(b"\xa1\x01\xf9\x3c\x00", Flaw::Float)]
#[case::an_open_map(b"\xbf\x01\x01\xff", Flaw::Indefinite)]
#[case::keys_downwards(b"\xa2\x02\x01\x01\x01", Flaw::KeyOrder)]
#[case::cut(b"\xa2\x01\x01", Flaw::CutShort)]
fn refuses_other_cbor(#[case] body: &[u8], #[case] expected: Flaw) {
    let refused = Visit::decode(VISIT_VERSION, body);
    assert!(matches!(refused, Err(Error::Cbor { flaw, .. }) if flaw == expected), "{refused:?}");
}

#[test]
fn refuses_a_field_that_it_does_not_know() {
    let body = with_field(&one().encode().unwrap(), 14, Some(b"\x01"));
    assert_eq!(Visit::decode(VISIT_VERSION, &body), Err(Error::UnknownField { place: "visit", key: 14 }));
}

#[rstest]
#[case::answer(7, b"\x81\x85\x19\xff\xff\x00\x00\x61x\x00", 0xffff)]
#[case::result(8, b"\x81\x83\x19\xff\xff\xc4\x82\x00\x01\x61m", 0xffff)]
fn tells_what_a_newer_program_wrote(#[case] field: u64, #[case] value: &[u8], #[case] code: u64) {
    let body = with_field(&one().encode().unwrap(), field, Some(value));
    let refused = Visit::decode(VISIT_VERSION, &body);
    assert!(matches!(refused, Err(Error::Newer { number, .. }) if number == code), "{refused:?}");
}

/// What version 1 says is read as before, and a body of version 1 holds nothing that came later.
#[test]
fn reads_version_1_and_nothing_newer_in_it() {
    let mut visit = one();
    let body = visit.encode().unwrap();
    assert_eq!(Visit::decode(1, &body), Ok(visit.clone()));
    visit.finished.instrument.mounting =
        Some(domain::visit::Mounted { kind: "probe".into(), ..Default::default() });
    let body = visit.encode().unwrap();
    assert_eq!(Visit::decode(2, &body), Ok(visit));
    assert_eq!(Visit::decode(1, &body), Err(Error::UnknownField { place: "instrument", key: 30 }));
}

/// Observations are cited since version 2: a list of whole hashes, in the order they were cited.
#[test]
fn cites_observations_since_version_2() {
    let visit = Visit { cited: vec![PayloadHash([2; 32]), PayloadHash([1; 32])], ..one() };
    let body = visit.encode().unwrap();
    let by_hand = [&[0x82, 0x58, 0x20], &[2; 32][..], &[0x58, 0x20], &[1; 32]].concat();
    assert!(with_field(&one().encode().unwrap(), 13, Some(&by_hand)) == body);
    assert_eq!(Visit::decode(2, &body), Ok(visit));
    assert_eq!(Visit::decode(1, &body), Err(Error::UnknownField { place: "visit", key: 13 }));
    let short = with_field(&body, 13, Some(&[&[0x81, 0x58, 0x1f], &[2; 31][..]].concat()));
    assert_eq!(Visit::decode(2, &short), Err(Error::Malformed { place: "visit.cited" }));
    let empty = with_field(&body, 13, Some(b"\x80"));
    assert_eq!(Visit::decode(2, &empty), Err(Error::OtherForm));
}

#[test]
fn does_not_guess_at_a_newer_version() {
    let error = Visit::decode(VISIT_VERSION + 1, &one().encode().unwrap()).unwrap_err();
    assert_eq!(error, Error::Newer { what: "visit version", number: u64::from(VISIT_VERSION) + 1 });
    assert!(error.to_string().contains("update"), "{error}");
    assert!(matches!(Visit::decode(0, b"\xa0"), Err(Error::Malformed { .. })));
}

#[test]
fn a_visit_that_is_too_long_is_told_with_the_way_out() {
    let mut visit = one();
    visit.finished.verdict.text = "x".repeat(MAX_BODY);
    let error = visit.encode().unwrap_err();
    assert!(matches!(error, Error::TooLong { limit: MAX_BODY, .. }));
    assert!(error.to_string().contains("Shorten"), "{error}");
}

#[test]
fn goes_through_an_entry() {
    let key = SecretKey::take(&mut [3; 32]);
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let visit = one();
    let seal_as = |kind| {
        let new = NewEntry { link: Link::First, kind, body_version: VISIT_VERSION, claimed, boot: None };
        seal(&new, &visit.encode().unwrap(), &key).unwrap().bytes
    };
    assert_eq!(Visit::of_entry(&open(&seal_as(VISIT)).unwrap()), Ok(visit.clone()));
    assert_eq!(Visit::of_entry(&open(&seal_as(Kind(2))).unwrap()), Err(Error::OtherKind(2)));
}

/// The person's name is erasable in the register, so it may not stand in what is signed for ever: the body holds the
/// technician's sixteen bytes and one word.
#[test]
fn names_the_person_by_number_only() {
    let body = one().encode().unwrap();
    let mut from = Decoder::new(&body);
    from.map().unwrap();
    while from.u64().unwrap() != 3 {
        from.skip().unwrap();
    }
    assert_eq!(from.array().unwrap(), Some(2));
    assert_eq!(from.bytes().unwrap(), one().technician.person.0);
    assert_eq!(from.datatype().unwrap(), Type::String);
}

/// Every key, result and word of the program has a form in bodies; none is the form of two.
#[test]
fn every_word_comes_back() {
    let mut visit = one();
    let template = visit.finished.answers[0].clone();
    for key in Key::ALL {
        visit.finished.answers.push({
            let mut answer = template.clone();
            answer.spot.key = *key;
            answer
        });
    }
    for choice in Choice::ALL {
        visit.finished.answers.push({
            let mut answer = template.clone();
            answer.text = choice.word().into();
            answer
        });
    }
    let result = visit.finished.results[0].clone();
    for key in ResultKey::ALL {
        visit.finished.results.push(domain::visit::ResultLine { key: *key, ..result.clone() });
    }
    let piece = visit.finished.pieces[0].clone();
    let kinds = [PieceKind::KnownEmpty, PieceKind::Dip, PieceKind::Drop, PieceKind::Riser, PieceKind::Vented];
    for kind in kinds {
        for timing in [Timing::Before, Timing::After] {
            visit.finished.pieces.push(domain::visit::Piece { kind, timing, ..piece.clone() });
        }
    }
    for confirmed in [Confirmed::Unlocked, Confirmed::Pin, Confirmed::None] {
        visit.technician.confirmed = confirmed;
        assert_eq!(Visit::decode(VISIT_VERSION, &visit.encode().unwrap()), Ok(visit.clone()));
    }
}
