//! The frozen example bytes of the kinds that came with the exchange: observation, amendment, review, receipt,
//! certificate, revocation, change, all body version 1, and change of version 2; a visit of version 2 that cites
//! observations; and something signed that is no entry. They stand for what is in the field: they are read here and never written again. The `README.md` beside
//! each says what it holds.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

mod said;
mod signed;

use std::path::Path;

use bodies::{
    AMENDMENT, Amendment, CERTIFICATE, CHANGE, Certificate, Change, Error, OBSERVATION, Observation, RECEIPT,
    REVIEW, REVOCATION, Receipt, Review, Revocation, VISIT, Visit,
};
use record::{
    Claimed, Entry, Kind, Link, NewEntry, PublicKey, Signer, open, read_export, seal, verify, write_export,
};
use rstest::rstest;
use suite::key;

fn frozen(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("wire").join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// One example: its file, the kind and version of its entries, and their bodies as they are written today.
struct Example {
    file: &'static str,
    kind: Kind,
    version: u32,
    bodies: Vec<Vec<u8>>,
}

impl Example {
    fn of<T>(
        file: &'static str,
        (kind, version): (Kind, u32),
        said: &[T],
        encode: impl Fn(&T) -> Result<Vec<u8>, Error>,
    ) -> Example {
        Example { file, kind, version, bodies: said.iter().map(|said| encode(said).unwrap()).collect() }
    }

    /// Seals the bodies one behind the other, as they were sealed when the example was made.
    fn exported(&self) -> Vec<u8> {
        let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 60 };
        let mut file = key().public().cose().to_vec();
        let mut link = Link::First;
        for body in &self.bodies {
            let new = NewEntry { link, kind: self.kind, body_version: self.version, claimed, boot: None };
            let sealed = seal(&new, body, &key()).unwrap();
            file.extend_from_slice(&sealed.bytes);
            link = sealed.next();
        }
        file
    }
}

const OBSERVATIONS: &str = "observation-1/observations.headmark";
const AMENDMENTS: &str = "amendment-1/amendments.headmark";
const REVIEWS: &str = "review-1/reviews.headmark";
const RECEIPTS: &str = "receipt-1/receipts.headmark";
const CERTIFICATES: &str = "certificate-1/certificates.headmark";
const REVOCATIONS: &str = "revocation-1/revocations.headmark";
const CHANGES: &str = "change-1/changes.headmark";
const CHANGES_OF_PHONES: &str = "change-2/changes.headmark";
const CITED: &str = "v2-cited/visit.headmark";
const ELEVATIONS: &str = "v2-elevations/visit.headmark";

fn examples() -> Vec<Example> {
    vec![
        Example::of(OBSERVATIONS, (OBSERVATION, 1), &said::observations(), Observation::encode),
        Example::of(AMENDMENTS, (AMENDMENT, 1), &said::amendments(), Amendment::encode),
        Example::of(REVIEWS, (REVIEW, 1), &said::reviews(), Review::encode),
        Example::of(RECEIPTS, (RECEIPT, 1), &said::receipts(), Receipt::encode),
        Example::of(CERTIFICATES, (CERTIFICATE, 1), &said::certificates(), Certificate::encode),
        Example::of(REVOCATIONS, (REVOCATION, 1), &said::revocations(), Revocation::encode),
        Example::of(CHANGES, (CHANGE, 1), &said::changes(), Change::encode),
        Example::of(CHANGES_OF_PHONES, (CHANGE, 2), &said::changes_of_phones(), Change::encode),
        Example::of(CITED, (VISIT, 2), &[said::visit()], Visit::encode),
        Example::of(ELEVATIONS, (VISIT, 2), &[said::with_elevations()], Visit::encode),
    ]
}

/// The same content under the same key still makes the same bytes. Where this fails, what is in the field would be
/// written differently today: give the new form a new number, and leave the example alone.
#[test]
fn the_examples_would_be_made_again_to_the_byte() {
    for example in examples() {
        assert!(example.exported() == frozen(example.file), "{}", example.file);
    }
}

#[test]
fn the_examples_verify_and_are_written_out_as_the_same_files() {
    for example in examples() {
        let file = frozen(example.file);
        let export = read_export(&file).unwrap();
        assert_eq!(export.key.cose(), key().public().cose());
        assert_eq!((export.entries.len(), &export.gaps[..]), (example.bodies.len(), &[][..]));
        for entry in &export.entries {
            let is = (entry.header.kind, entry.header.body_version);
            assert_eq!(is, (example.kind, example.version), "{}", example.file);
        }
        assert!(write_export(&export.key, export.entries.iter().map(|entry| entry.bytes)).unwrap() == file);
    }
}

/// What is read is what was said, and is written again as the same bytes.
#[rstest]
#[case::observations(OBSERVATIONS, said::observations(), Observation::of_entry, Observation::encode)]
#[case::amendments(AMENDMENTS, said::amendments(), Amendment::of_entry, Amendment::encode)]
#[case::reviews(REVIEWS, said::reviews(), Review::of_entry, Review::encode)]
#[case::receipts(RECEIPTS, said::receipts(), Receipt::of_entry, Receipt::encode)]
#[case::certificates(CERTIFICATES, said::certificates(), Certificate::of_entry, Certificate::encode)]
#[case::revocations(REVOCATIONS, said::revocations(), Revocation::of_entry, Revocation::encode)]
#[case::changes(CHANGES, said::changes(), Change::of_entry, Change::encode)]
#[case::changes_of_phones(CHANGES_OF_PHONES, said::changes_of_phones(), Change::of_entry, Change::encode)]
#[case::cited(CITED, vec![said::visit()], Visit::of_entry, Visit::encode)]
#[case::elevations(ELEVATIONS, vec![said::with_elevations()], Visit::of_entry, Visit::encode)]
fn the_example_says_what_was_said<T: std::fmt::Debug + PartialEq>(
    #[case] file: &str,
    #[case] said: Vec<T>,
    #[case] read: impl Fn(&Entry<'_>) -> Result<T, Error>,
    #[case] encode: impl Fn(&T) -> Result<Vec<u8>, Error>,
) {
    let file = frozen(file);
    let export = read_export(&file).unwrap();
    let found: Vec<T> = export.entries.iter().map(|entry| read(entry).unwrap()).collect();
    assert_eq!(found, said);
    for (said, entry) in said.iter().zip(&export.entries) {
        assert!(encode(said).unwrap() == entry.body);
    }
}

/// No kind is taken for another.
#[test]
fn each_example_is_of_its_own_kind_only() {
    for example in examples() {
        let file = frozen(example.file);
        for entry in read_export(&file).unwrap().entries {
            let taken = [
                (VISIT, Visit::of_entry(&entry).is_ok()),
                (OBSERVATION, Observation::of_entry(&entry).is_ok()),
                (AMENDMENT, Amendment::of_entry(&entry).is_ok()),
                (REVIEW, Review::of_entry(&entry).is_ok()),
                (RECEIPT, Receipt::of_entry(&entry).is_ok()),
                (CERTIFICATE, Certificate::of_entry(&entry).is_ok()),
                (REVOCATION, Revocation::of_entry(&entry).is_ok()),
                (CHANGE, Change::of_entry(&entry).is_ok()),
            ];
            for (kind, taken) in taken {
                assert_eq!(taken, kind == example.kind, "{} as {kind:?}", example.file);
            }
        }
    }
}

/// Every byte of a small entry, changed to every other value.
#[test]
fn no_byte_of_an_entry_can_be_changed() {
    let file = frozen(REVIEWS);
    let export = read_export(&file).unwrap();
    let bytes = export.entries[0].bytes;
    let public: &PublicKey = &export.key;
    let mut changed = bytes.to_vec();
    for at in 0..bytes.len() {
        for by in 1..=255 {
            changed[at] = bytes[at] ^ by;
            let taken = open(&changed).and_then(|entry| verify(&entry, public));
            assert!(taken.is_err(), "byte {at} was changed by {by} unseen");
        }
        changed[at] = bytes[at];
    }
}

/// One bit of each byte of each file, and each byte left out.
#[test]
fn no_byte_of_an_export_can_be_changed_or_left_out() {
    for example in examples().iter().filter(|example| example.kind != VISIT) {
        let file = frozen(example.file);
        let mut changed = file.clone();
        for at in 0..file.len() {
            changed[at] ^= 1 << (at % 8);
            assert!(read_export(&changed).is_err(), "{}: byte {at} was changed unseen", example.file);
            changed[at] = file[at];
            let without = [&file[..at], &file[at + 1..]].concat();
            assert!(read_export(&without).is_err(), "{}: byte {at} was left out unseen", example.file);
        }
    }
}

/// Cut behind an entry an export is a shorter one; cut anywhere else it is none.
#[test]
fn an_export_cut_short_is_whole_entries_or_nothing() {
    for example in examples().iter().filter(|example| example.kind != VISIT) {
        let file = frozen(example.file);
        let mut ends = vec![42];
        for entry in read_export(&file).unwrap().entries {
            ends.push(ends[ends.len() - 1] + entry.bytes.len());
        }
        let whole: Vec<usize> = (0..=file.len()).filter(|end| read_export(&file[..*end]).is_ok()).collect();
        assert_eq!(whole, ends[1..], "{}", example.file);
    }
}
