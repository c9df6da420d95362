//! What is deterministic CBOR and still no body of its kind; and what may not be written either.

use std::collections::BTreeSet;

use bodies::{
    Amendment, Certificate, Certified, Change, ChangeMade, Error, Grade, HeldRun, HubRole, Import,
    Observation, Observed, PersonChange, PhotoHash, RECEIPT_PHOTOS, Receipt, Review, Revocation,
};
use record::MAX_BODY;
use record::cbor::check;
use rstest::rstest;

use crate::fields::with_field;
use crate::plain::{self, run};

/// A body with a field exchanged; the case is about the kind and not about its CBOR.
fn changed(body: Result<Vec<u8>, Error>, field: u64, value: Option<&[u8]>) -> Vec<u8> {
    let body = with_field(&body.unwrap(), field, value);
    assert_eq!(check(&body), Ok(()));
    body
}

fn malformed(place: &'static str) -> Error {
    Error::Malformed { place }
}

const HASH: [u8; 34] = {
    let mut hash = [0x77; 34];
    hash[0] = 0x58;
    hash[1] = 0x20;
    hash
};

#[rstest]
#[case::no_technician(2, None, "observation")]
#[case::no_what(4, None, "observation")]
#[case::a_dip_with_no_reading(6, None, "observation.readings")]
#[case::a_photo_that_is_none(5, Some(&b"\x01"[..]), "observation.photo")]
#[case::a_photo_with_a_short_hash(5, Some(&b"\xa3\x01\x41x\x02\x01\x03\x61x"[..]), "observation.photo")]
#[case::a_reading_with_no_number(6, Some(&b"\x81\x82\x61x\x61m"[..]), "observation.readings")]
#[case::a_reading_with_a_bare_number(6, Some(&b"\x81\x83\x61x\x01\x61m"[..]), "observation.readings")]
#[case::a_number_as_note(7, Some(&b"\x01"[..]), "observation")]
fn no_observation(#[case] field: u64, #[case] value: Option<&[u8]>, #[case] place: &'static str) {
    let body = changed(plain::observation().encode(), field, value);
    assert_eq!(Observation::decode(1, &body), Err(malformed(place)));
}

#[rstest]
#[case::of_no_bytes(b"\x02\x00", b"\x03\x61x")]
#[case::longer_than_databases_count(b"\x02\x1b\x80\x00\x00\x00\x00\x00\x00\x00", b"\x03\x61x")]
#[case::of_no_type(b"\x02\x01", b"")]
fn no_photo(#[case] length: &[u8], #[case] media_type: &[u8]) {
    let head = if media_type.is_empty() { 0xa2 } else { 0xa3 };
    let photo = [&[head, 0x01], &HASH[..], length, media_type].concat();
    let body = changed(plain::observation().encode(), 5, Some(&photo));
    assert_eq!(Observation::decode(1, &body), Err(malformed("observation.photo")));
}

#[rstest]
#[case::a_photo_without_one(Observed::Photo, None)]
#[case::a_dip_without_one(Observed::Dip, Some("photo"))]
#[case::a_reading_without_one(Observed::Reading, Some("photo"))]
#[case::nothing_at_all(Observed::Other, None)]
fn an_observation_of_nothing_is_not_written(#[case] what: Observed, #[case] photo: Option<&str>) {
    let photo = photo.and(plain::observation().photo);
    let bare = Observation { what, photo, readings: vec![], note: String::new(), ..plain::observation() };
    let error = bare.encode().unwrap_err();
    assert!(matches!(error, Error::Incomplete { what: "observation", .. }), "{error:?}");
    let noted = Observation { what: Observed::Other, note: "a leak".into(), ..bare };
    assert_eq!(Observation::decode(1, &noted.encode().unwrap()), Ok(noted));
}

#[rstest]
#[case::no_technician(2, None, "amendment")]
#[case::no_subject(3, None, "amendment")]
#[case::no_reason(4, None, "amendment.reason")]
#[case::blanks_for_a_reason(4, Some(&b"\x63 \x0a\x09"[..]), "amendment.reason")]
#[case::a_subject_of_two(3, Some(&b"\x82\x01\x01"[..]), "amendment.subject")]
#[case::a_change_of_nothing(5, Some(&b"\x81\x83\x60\x61a\x61b"[..]), "amendment.changes")]
#[case::a_change_of_two(5, Some(&b"\x81\x82\x61a\x61b"[..]), "amendment.changes")]
fn no_amendment(#[case] field: u64, #[case] value: Option<&[u8]>, #[case] place: &'static str) {
    let body = changed(plain::amendment().encode(), field, value);
    assert_eq!(Amendment::decode(1, &body), Err(malformed(place)));
}

/// `[log, place, payload]` with another place, or with a hash that is one byte short.
#[rstest]
#[case::place_nought(&[0x00], 0x20)]
#[case::place_above_the_last(&[0x1b, 0x80, 0, 0, 0, 0, 0, 0, 0], 0x20)]
#[case::place_below_nought(&[0x20], 0x20)]
#[case::short_hash(&[0x01], 0x1f)]
fn no_subject(#[case] seq: &[u8], #[case] length: u8) {
    let payload = [&[0x58, length], &[0x77; 32][..usize::from(length)]].concat();
    let subject = [&[0x83], &HASH[..], seq, &payload].concat();
    let body = changed(plain::amendment().encode(), 3, Some(&subject));
    assert_eq!(Amendment::decode(1, &body), Err(malformed("amendment.subject")));
    let body = changed(plain::review().encode(), 1, Some(&subject));
    assert_eq!(Review::decode(1, &body), Err(malformed("review.subject")));
}

#[rstest]
#[case::no_subject(1, None, "review")]
#[case::no_decision(2, None, "review")]
#[case::no_person(4, None, "review")]
#[case::a_short_person(4, Some(&b"\x41x"[..]), "review.person")]
fn no_review(#[case] field: u64, #[case] value: Option<&[u8]>, #[case] place: &'static str) {
    let body = changed(plain::review().encode(), field, value);
    assert_eq!(Review::decode(1, &body), Err(malformed(place)));
}

#[rstest]
#[case::no_log(2, None, "receipt")]
#[case::no_grade(5, None, "receipt")]
#[case::a_hub_without_its_epoch(1, None, "receipt.epoch")]
#[case::a_phone_with_an_epoch(5, Some(&b"\x67relayed"[..]), "receipt.epoch")]
#[case::a_short_epoch(1, Some(&b"\x41x"[..]), "receipt.epoch")]
#[case::a_short_photo(4, Some(&b"\x81\x41x"[..]), "receipt.photos")]
#[case::a_run_of_two(3, Some(&b"\x81\x82\x01\x02"[..]), "receipt.runs")]
fn no_receipt(#[case] field: u64, #[case] value: Option<&[u8]>, #[case] place: &'static str) {
    let body = changed(plain::receipt().encode(), field, value);
    assert_eq!(Receipt::decode(1, &body), Err(malformed(place)));
}

/// Neither written nor read; so the reading is tried on a body that is written by hand.
#[rstest]
#[case::backwards(vec![run(3, 2, 1)], false)]
#[case::not_in_order(vec![run(5, 6, 1), run(1, 2, 2)], false)]
#[case::the_same_twice(vec![run(1, 2, 1), run(1, 2, 1)], false)]
#[case::one_chain_twice(vec![run(1, 6, 1), run(3, 6, 1)], false)]
#[case::one_place(vec![run(3, 3, 1)], true)]
#[case::side_by_side(vec![run(1, 2, 1), run(3, 4, 2)], true)]
#[case::two_branches(vec![run(1, 6, 1), run(3, 5, 2)], true)]
#[case::two_branches_of_one_length(vec![run(1, 6, 1), run(1, 6, 2)], true)]
#[case::none(vec![], true)]
fn runs_stand_in_order_and_cover_no_chain_twice(#[case] runs: Vec<HeldRun>, #[case] sound: bool) {
    // Places below 24 are one byte.
    let place = |seq: record::Seq| u8::try_from(seq.get()).unwrap();
    let by_hand = runs
        .iter()
        .flat_map(|run| [&[0x83, place(run.from), place(run.to), 0x58, 0x20], &run.end.0[..]].concat());
    let by_hand: Vec<u8> = std::iter::once(0x80 + u8::try_from(runs.len()).unwrap()).chain(by_hand).collect();
    let body = changed(plain::receipt().encode(), 3, (!runs.is_empty()).then_some(&by_hand[..]));
    let receipt = Receipt { runs, ..plain::receipt() };
    if sound {
        assert_eq!(receipt.encode().unwrap(), body);
        assert_eq!(Receipt::decode(1, &body), Ok(receipt));
    } else {
        assert_eq!(receipt.encode(), Err(Error::Incomplete { what: "receipt", place: "receipt.runs" }));
        assert_eq!(Receipt::decode(1, &body), Err(malformed("receipt.runs")));
    }
}

fn photos(count: usize) -> BTreeSet<PhotoHash> {
    let name = |at: usize| {
        let mut hash = [0; 32];
        hash[..8].copy_from_slice(&(at as u64).to_be_bytes());
        PhotoHash(hash)
    };
    (0..count).map(name).collect()
}

#[test]
fn a_receipt_names_four_thousand_photos_at_most() {
    assert_eq!(RECEIPT_PHOTOS, 4000);
    let receipt = Receipt { photos: photos(4000), ..plain::receipt() };
    let body = receipt.encode().unwrap();
    assert_eq!(Receipt::decode(1, &body), Ok(receipt.clone()));
    let more = Receipt { photos: photos(4001), ..receipt };
    assert_eq!(more.encode(), Err(Error::Incomplete { what: "receipt", place: "receipt.photos" }));
    let by_hand = more.photos.iter().flat_map(|photo| [&[0x58, 0x20], &photo.0[..]].concat());
    let by_hand: Vec<u8> = [0x99, 0x0f, 0xa1].into_iter().chain(by_hand).collect();
    let body = changed(plain::receipt().encode(), 4, Some(&by_hand));
    assert_eq!(Receipt::decode(1, &body), Err(malformed("receipt.photos")));
}

#[rstest]
#[case::not_in_order(&[2, 1])]
#[case::one_twice(&[1, 1])]
fn photos_have_one_order(#[case] names: &[u8]) {
    let list = names.iter().flat_map(|name| [&[0x58, 0x20], &[*name; 32][..]].concat());
    let list: Vec<u8> = std::iter::once(0x82).chain(list).collect();
    let body = changed(plain::receipt().encode(), 4, Some(&list));
    assert_eq!(Receipt::decode(1, &body), Err(Error::OtherForm));
}

#[rstest]
#[case::no_role(plain::hub(), 1, None, malformed("certificate"))]
#[case::no_key(plain::hub(), 2, None, malformed("certificate"))]
#[case::a_hub_without_an_epoch(plain::hub(), 4, None, malformed("certificate"))]
#[case::a_device_without_a_person(plain::device(), 6, None, malformed("certificate"))]
#[case::a_short_tls_key(plain::hub(), 3, Some(&b"\x81\x41x"[..]), malformed("certificate.tls"))]
#[case::a_short_former_log(plain::hub(), 5, Some(&b"\x41x"[..]), malformed("certificate.replaces"))]
#[case::a_key_of_no_form(plain::hub(), 2, Some(&b"\x41x"[..]), malformed("certificate.key"))]
#[case::an_area_of_no_name(plain::device(), 8, Some(&b"\x81\x60"[..]), malformed("certificate.areas"))]
#[case::areas_out_of_order(plain::device(), 8, Some(&b"\x82\x61b\x61a"[..]), Error::OtherForm)]
#[case::an_area_twice(plain::device(), 8, Some(&b"\x82\x61a\x61a"[..]), Error::OtherForm)]
#[case::a_hub_of_a_person(plain::hub(), 6, Some(&b"\x50________________"[..]), unknown(6))]
#[case::a_hub_of_areas(plain::hub(), 8, Some(&b"\x81\x61a"[..]), unknown(8))]
#[case::a_device_with_tls(plain::device(), 3, Some(&b"\x80"[..]), unknown(3))]
#[case::a_device_of_an_epoch(plain::device(), 4, Some(&b"\x50________________"[..]), unknown(4))]
#[case::a_device_in_place_of_a_hub(plain::device(), 5, Some(&HASH[..]), unknown(5))]
#[case::an_organisation_with_tls(plain::organisation(), 3, Some(&b"\x80"[..]), unknown(3))]
#[case::an_organisation_of_an_epoch(plain::organisation(), 4, Some(&b"\x50________________"[..]), unknown(4))]
#[case::an_organisation_of_a_person(plain::organisation(), 6, Some(&b"\x50________________"[..]), unknown(6))]
#[case::an_organisation_of_areas(plain::organisation(), 8, Some(&b"\x81\x61a"[..]), unknown(8))]
fn no_certificate(
    #[case] of: Certificate,
    #[case] field: u64,
    #[case] value: Option<&[u8]>,
    #[case] expected: Error,
) {
    assert_eq!(Certificate::decode(1, &changed(of.encode(), field, value)), Err(expected));
}

fn unknown(key: u64) -> Error {
    Error::UnknownField { place: "certificate", key }
}

/// A key under which one signature could hold for many messages: the point of order one.
#[test]
fn a_weak_key_is_not_vouched_for() {
    let mut key = [&[0x58, 42], plain::key().cose()].concat();
    let point = key.len() - 32;
    key[point..].fill(0);
    key[point] = 1;
    let body = changed(plain::device().encode(), 2, Some(&key));
    assert_eq!(Certificate::decode(1, &body), Err(malformed("certificate.key")));
}

#[test]
fn a_hub_does_not_replace_itself() {
    let Certified::Hub { tls, epoch, .. } = plain::hub().certified else { unreachable!("it is a hub's") };
    let own = Some(plain::hub().log());
    let certified = Certified::Hub { tls, epoch, replaces: own };
    let error = Certificate { certified, ..plain::hub() }.encode();
    assert_eq!(error, Err(Error::Incomplete { what: "certificate", place: "certificate.replaces" }));
    let by_hand = [&[0x58, 0x20], &plain::hub().log().0[..]].concat();
    let body = changed(plain::hub().encode(), 5, Some(&by_hand));
    assert_eq!(Certificate::decode(1, &body), Err(malformed("certificate.replaces")));
}

#[rstest]
#[case::no_log(1, None, "revocation")]
#[case::no_place(2, None, "revocation")]
#[case::no_hash_at_a_place(3, None, "revocation.last")]
#[case::a_hash_at_place_nought(2, Some(&b"\x00"[..]), "revocation.last")]
#[case::a_place_above_the_last(2, Some(&b"\x1b\x80\0\0\0\0\0\0\0"[..]), "revocation.last")]
#[case::a_short_hash(3, Some(&b"\x41x"[..]), "revocation.last")]
#[case::no_reason(4, None, "revocation.reason")]
#[case::blanks_for_a_reason(4, Some(&b"\x61 "[..]), "revocation.reason")]
#[case::no_person(5, None, "revocation")]
fn no_revocation(#[case] field: u64, #[case] value: Option<&[u8]>, #[case] place: &'static str) {
    let body = changed(plain::revocation().encode(), field, value);
    assert_eq!(Revocation::decode(1, &body), Err(malformed(place)));
}

#[rstest]
#[case::nothing_changed(plain::change(), 1, None, malformed("change"))]
#[case::by_half_a_person(plain::change(), 2, Some(&b"\x41x"[..]), malformed("change.by"))]
#[case::no_table(plain::change(), 3, None, malformed("change"))]
#[case::a_table_of_people(plain::change(), 3, Some(&b"\x66people"[..]), Error::UnknownWord { place: "change.table" })]
#[case::no_file(plain::change(), 4, None, malformed("change"))]
#[case::a_short_file(plain::change(), 4, Some(&b"\x41x"[..]), malformed("change.file"))]
#[case::no_versions(plain::change(), 5, None, malformed("change"))]
#[case::one_version(plain::change(), 5, Some(&b"\x81\x01"[..]), malformed("change.versions"))]
#[case::backwards(plain::change(), 5, Some(&b"\x82\x02\x01"[..]), malformed("change.versions"))]
#[case::standing_still(plain::change(), 5, Some(&b"\x82\x02\x02"[..]), malformed("change.versions"))]
#[case::no_rows(plain::change(), 6, None, malformed("change"))]
#[case::three_rows(plain::change(), 6, Some(&b"\x83\x01\x01\x01"[..]), malformed("change.rows"))]
#[case::rows_below_nought(plain::change(), 6, Some(&b"\x84\x20\x01\x01\x01"[..]), malformed("change.rows"))]
#[case::an_import_of_a_person(plain::change(), 7, Some(&b"\x50________________"[..]), unknown_in_change(7))]
#[case::nobody(plain::added(), 7, None, malformed("change"))]
#[case::half_a_person(plain::added(), 7, Some(&b"\x41x"[..]), malformed("change.person"))]
#[case::no_role(plain::added(), 8, None, malformed("change"))]
#[case::a_role_nobody_has(plain::added(), 8, Some(&b"\x64rule"[..]), Error::UnknownWord { place: "change.role" })]
#[case::a_person_from_a_file(plain::added(), 4, Some(&HASH[..]), unknown_in_change(4))]
#[case::not_signing_in_written_out(plain::added(), 9, Some(&b"\xf4"[..]), Error::OtherForm)]
#[case::a_name(plain::added(), 10, Some(&b"\x63Ada"[..]), unknown_in_change(10))]
#[case::a_rename_with_a_role(plain::changed(PersonChange::Renamed), 8, Some(&b"\x64read"[..]), unknown_in_change(8))]
#[case::a_role_with_a_password(
    plain::changed(PersonChange::Role(HubRole::Read)), 9, Some(&b"\xf5"[..]), unknown_in_change(9)
)]
#[case::no_phone(plain::phone_confirmed(), 10, None, malformed("change"))]
#[case::half_a_phone(plain::phone_confirmed(), 10, Some(&b"\x41x"[..]), malformed("change.phone"))]
#[case::a_phone_of_a_person(plain::phone_confirmed(), 7, Some(&b"\x50________________"[..]), unknown_in_change(7))]
#[case::one_phone_looked_through(
    plain::of_phones(ChangeMade::PhonesLookedThrough), 10, Some(&HASH[..]), unknown_in_change(10)
)]
fn no_change(#[case] of: Change, #[case] field: u64, #[case] value: Option<&[u8]>, #[case] expected: Error) {
    assert_eq!(Change::decode(2, &changed(of.encode(), field, value)), Err(expected));
}

fn unknown_in_change(key: u64) -> Error {
    Error::UnknownField { place: "change", key }
}

/// What version 1 says, version 2 says with the same bytes; what came with version 2 is none in version 1.
#[test]
fn a_word_of_a_later_version_is_unknown_in_the_one_before() {
    for older in [plain::change(), plain::added(), plain::changed(PersonChange::Erased)] {
        assert_eq!(Change::decode(1, &older.encode().unwrap()), Ok(older));
    }
    for newer in [plain::phone_confirmed(), plain::of_phones(ChangeMade::PhonesLookedThrough)] {
        let body = newer.encode().unwrap();
        assert_eq!(Change::decode(1, &body), Err(Error::UnknownWord { place: "change.what" }));
        assert_eq!(Change::decode(2, &body), Ok(newer));
    }
}

/// What changed nothing is no change: neither written nor read.
#[test]
fn an_import_that_changes_nothing_is_not_written() {
    let ChangeMade::Imported(import) = plain::change().made else { unreachable!("it is one") };
    let still = Import { after: import.before, ..import };
    let error = Change { made: ChangeMade::Imported(still), ..plain::change() }.encode();
    assert_eq!(error, Err(Error::Incomplete { what: "change", place: "change.versions" }));
}

/// A reason is asked for where it is written too, and the message says what to do.
#[rstest]
#[case::nothing("")]
#[case::blanks(" \u{a0}\n")]
fn no_reason_is_not_written(#[case] reason: &str) {
    let errors = [
        Amendment { reason: reason.into(), ..plain::amendment() }.encode().unwrap_err(),
        Revocation { reason: reason.into(), ..plain::revocation() }.encode().unwrap_err(),
    ];
    for error in errors {
        assert!(matches!(error, Error::Incomplete { .. }), "{error:?}");
        assert!(error.to_string().contains("try again"), "{error}");
    }
}

/// What comes of a body of the kind that is called this, with a field exchanged.
fn told(name: &str, field: u64, value: &[u8]) -> Result<(), Error> {
    let with = |body| changed(body, field, Some(value));
    match name {
        "observation" => Observation::decode(1, &with(plain::observation().encode())).map(drop),
        "amendment" => Amendment::decode(1, &with(plain::amendment().encode())).map(drop),
        "review" => Review::decode(1, &with(plain::review().encode())).map(drop),
        "receipt" => Receipt::decode(1, &with(plain::receipt().encode())).map(drop),
        "certificate" => Certificate::decode(1, &with(plain::hub().encode())).map(drop),
        "change" => Change::decode(1, &with(plain::change().encode())).map(drop),
        _ => Revocation::decode(1, &with(plain::revocation().encode())).map(drop),
    }
}

#[rstest]
#[case::observation("observation", 4, "observation.what")]
#[case::review("review", 2, "review.decision")]
#[case::receipt("receipt", 5, "receipt.grade")]
#[case::certificate("certificate", 1, "certificate.role")]
#[case::change("change", 1, "change.what")]
fn a_word_that_nobody_knows_is_told_as_that(
    #[case] name: &str,
    #[case] field: u64,
    #[case] place: &'static str,
) {
    assert_eq!(told(name, field, b"\x63yes"), Err(Error::UnknownWord { place }));
}

#[rstest]
#[case::observation("observation", 9)]
#[case::amendment("amendment", 6)]
#[case::review("review", 5)]
#[case::receipt("receipt", 6)]
#[case::certificate("certificate", 9)]
#[case::revocation("revocation", 6)]
#[case::change("change", 10)]
fn a_field_that_nobody_knows_is_told_as_that(#[case] place: &'static str, #[case] key: u64) {
    for key in [0, key, 1000] {
        assert_eq!(told(place, key, b"\x01"), Err(Error::UnknownField { place, key }));
    }
}

/// What is left out when there is nothing in it may not be written out.
#[test]
fn empty_things_are_left_out() {
    let of = |body: Vec<u8>| Observation::decode(1, &body);
    let bare = Observation {
        app: String::new(),
        tag: String::new(),
        note: String::new(),
        made_for: String::new(),
        photo: None,
        ..plain::observation()
    };
    assert_eq!(of(bare.encode().unwrap()), Ok(bare.clone()));
    for text in [1, 3, 7, 8] {
        assert_eq!(of(changed(bare.encode(), text, Some(b"\x60"))), Err(Error::OtherForm));
    }
    let amendment = Amendment { changes: vec![], ..plain::amendment() };
    let body = changed(amendment.encode(), 5, Some(b"\x80"));
    assert_eq!(Amendment::decode(1, &body), Err(Error::OtherForm));
    let receipt = Receipt { runs: vec![], photos: BTreeSet::new(), ..plain::receipt() };
    for list in [3, 4] {
        let body = changed(receipt.encode(), list, Some(b"\x80"));
        assert_eq!(Receipt::decode(1, &body), Err(Error::OtherForm));
    }
}

#[test]
fn what_is_too_long_is_told_by_its_name() {
    let error = Review { note: "x".repeat(MAX_BODY), ..plain::review() }.encode().unwrap_err();
    assert!(matches!(error, Error::TooLong { what: "review", limit: MAX_BODY, .. }));
    assert!(error.to_string().contains("Shorten"), "{error}");
}

/// A relayed receipt has no epoch, the other grades have one.
#[rstest]
#[case::relayed(Grade::Relayed, true)]
#[case::stored(Grade::Stored, false)]
#[case::backed_up(Grade::BackedUp, false)]
fn only_a_phone_has_no_epoch(#[case] grade: Grade, #[case] without: bool) {
    let bare = Receipt { epoch: None, grade, ..plain::receipt() };
    assert_eq!(bare.encode().is_ok(), without);
    let full = Receipt { grade, ..plain::receipt() };
    assert_eq!(full.encode().is_ok(), !without);
}
