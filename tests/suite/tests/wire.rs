//! The frozen example bytes of the record format, version 1. They stand for what is in the field: they are read
//! here and never written again. `wire/v1/README.md` says what each holds.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use std::path::Path;

use bodies::{Confirmed, PersonId, Technician, VISIT, Visit};
use domain::quantity::Decimal;
use domain::visit::{Finished, Key, Moment, PieceId, PieceKind, ResultKey, Spot};
use record::{
    Boot, BootMark, Claimed, Link, NewEntry, PublicKey, Seq, Signer, open, read_export, seal, verify,
    write_export,
};
use suite::key;

fn frozen(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("wire/v1").join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The bytes of a file of hexadecimal digits in lines.
fn from_hex(name: &str) -> Vec<u8> {
    let text = String::from_utf8(frozen(name)).unwrap();
    let digits: Vec<_> = text.chars().filter(|c| !c.is_whitespace()).collect();
    let byte = |pair: &[char]| u8::from_str_radix(&String::from_iter(pair), 16).expect("hexadecimal digits");
    digits.chunks(2).map(byte).collect()
}

/// What the examples say, as it was before anything was encoded.
fn said(name: &str, confirmed: Confirmed) -> Visit {
    let finished: Finished = serde_json::from_slice(&frozen(name)).unwrap();
    let person = PersonId(*b"invented person!");
    Visit { technician: Technician { person, confirmed }, app: "0.1.0".into(), finished, cited: vec![] }
}

fn first() -> Visit {
    said("visit-1.json", Confirmed::Unlocked)
}

fn second() -> Visit {
    said("visit-2.json", Confirmed::None)
}

/// Seals the two visits as they were sealed when the examples were made.
fn sealed() -> [Vec<u8>; 2] {
    let boot = Boot { elapsed_millis: 93_784_000, mark: BootMark::new(b"boot mark no. 17").unwrap() };
    let claimed = Claimed { millis: 1_789_994_700_000, offset_minutes: -300 };
    let new = NewEntry { link: Link::First, kind: VISIT, body_version: 1, claimed, boot: Some(boot) };
    let one = seal(&new, &first().encode().unwrap(), &key()).unwrap();
    let claimed = Claimed { millis: 1_797_252_000_000, offset_minutes: -360 };
    let new = NewEntry { link: one.next(), claimed, boot: None, ..new };
    let two = seal(&new, &second().encode().unwrap(), &key()).unwrap();
    [one.bytes, two.bytes]
}

/// The same content under the same key still makes the same bytes. Where this fails, what is in the field would be
/// written differently today: give the new form a new number, and leave the example alone.
#[test]
fn the_examples_would_be_made_again_to_the_byte() {
    let [one, two] = sealed();
    assert!(one == from_hex("visit.hex"), "the entry");
    let file = [key().public().cose(), &one[..], &two[..]].concat();
    assert!(file == from_hex("two-visits.hex"), "the export");
    assert_eq!(key().public().cose(), from_hex("key.hex"));
}

#[test]
fn the_entry_opens_and_verifies() {
    let bytes = from_hex("visit.hex");
    let entry = open(&bytes).unwrap();
    let key = PublicKey::from_cose(&from_hex("key.hex")).unwrap();
    verify(&entry, &key).unwrap();
    assert_eq!((entry.header.format, entry.header.seq, entry.header.previous), (1, Seq::FIRST, None));
    assert_eq!((entry.header.kind, entry.header.body_version), (VISIT, 1));
    assert_eq!(entry.header.claimed, Claimed { millis: 1_789_994_700_000, offset_minutes: -300 });
    assert_eq!(entry.header.boot.map(|boot| boot.elapsed_millis), Some(93_784_000));
}

#[test]
fn the_visit_says_what_was_said_and_is_written_the_same() {
    let bytes = from_hex("visit.hex");
    let entry = open(&bytes).unwrap();
    let visit = Visit::of_entry(&entry).unwrap();
    assert_eq!(visit, first());
    assert!(visit.encode().unwrap() == entry.body);
}

/// The content read with our own eyes and not through a second file: raw dips with the one set aside and why, the
/// number beside the text, a safety item with its reason, the results.
#[test]
fn nothing_that_was_entered_is_lost() {
    let visit = Visit::of_entry(&open(&from_hex("visit.hex")).unwrap()).unwrap();
    assert_eq!(visit.technician.person, PersonId(*b"invented person!"));
    assert_eq!(visit.technician.confirmed, Confirmed::Unlocked);
    let finished = visit.finished;
    let answer =
        |spot: Spot| finished.answers.iter().find(|answer| answer.spot == spot).expect("it was answered");
    let dips = [0, 1, 2, 3].map(|row| answer(Spot::piece(PieceId(1), Key::Dip, row)));
    assert_eq!(dips.map(|dip| dip.text.as_str()), ["12' 1 1/4\"", "12' 1 1/8\"", "12' 4\"", "12' 1 1/4\""]);
    // 12 ft 1 1/4 in is 145.25 x 25.4 mm.
    let value = &dips[0].value.as_ref().expect("a dip is read as a length").value;
    assert_eq!(*value, Decimal { mantissa: 368_935, exponent: -5 });
    assert_eq!(answer(Spot::piece(PieceId(1), Key::DipSetAside, 2)).text, "Tape was slack");
    assert_eq!(answer(Spot::row(Key::SafetyItem, 7)).text, "does_not_apply");
    assert_eq!(answer(Spot::row(Key::SafetyReason, 7)).text, "Two of us here");
    assert!(answer(Spot::of(Key::Note)).text.ends_with("Größe 300 mm."));
    assert_eq!(answer(Spot::of(Key::FoundBy)).at, Moment(finished.begun.0 + 2000));
    let result = |key| finished.results.iter().find(|line| line.key == key).expect("it was worked out");
    // The tolerance, 1 1/2 in, is 38.1 mm.
    assert_eq!(result(ResultKey::Tolerance).value.value, Decimal { mantissa: 381, exponent: -4 });
    assert_eq!(finished.pieces.iter().map(|piece| piece.kind).collect::<Vec<_>>(), [PieceKind::Dip]);
    assert_eq!(finished.instrument.tag, "LT-2041");
    assert_eq!(finished.instrument.safety.len(), 8);
    assert_eq!(finished.verdict.code, "verdict.not_proved");
}

#[test]
fn the_export_reads_and_both_visits_stand_in_one_chain() {
    let file = frozen("two-visits.headmark");
    assert!(file == from_hex("two-visits.hex"));
    let export = read_export(&file).unwrap();
    assert_eq!(export.key.cose(), from_hex("key.hex"));
    assert_eq!(export.gaps, []);
    let [one, two] = &export.entries[..] else { panic!("two entries, not {}", export.entries.len()) };
    assert!(one.bytes == from_hex("visit.hex"));
    assert_eq!(two.header.previous, Some(one.id.payload));
    let visit = Visit::of_entry(two).unwrap();
    assert_eq!(visit, second());
    assert!(visit.encode().unwrap() == two.body);
    // Written out again it is the same file.
    let again = write_export(&export.key, export.entries.iter().map(|entry| entry.bytes)).unwrap();
    assert!(again == file);
}

/// Every byte of the entry, changed to every other value.
#[test]
fn no_byte_of_the_entry_can_be_changed() {
    let bytes = from_hex("visit.hex");
    let key = key();
    let unseen = |part: &[usize]| {
        let mut changed = bytes.clone();
        let mut passed = Vec::new();
        for at in part {
            for by in 1..=255 {
                changed[*at] = bytes[*at] ^ by;
                let taken = open(&changed).and_then(|entry| verify(&entry, key.public())).is_ok();
                passed.extend(taken.then_some((*at, by)));
            }
            changed[*at] = bytes[*at];
        }
        passed
    };
    let places: Vec<usize> = (0..bytes.len()).collect();
    let passed: Vec<_> = std::thread::scope(|scope| {
        let parts: Vec<_> = places.chunks(256).map(|part| scope.spawn(|| unseen(part))).collect();
        parts.into_iter().flat_map(|part| part.join().expect("no refusal panics")).collect()
    });
    assert_eq!(passed, []);
}

#[test]
fn no_byte_of_the_export_can_be_changed_or_left_out() {
    let file = frozen("two-visits.headmark");
    let mut changed = file.clone();
    for at in 0..file.len() {
        changed[at] ^= 1 << (at % 8);
        assert!(read_export(&changed).is_err(), "byte {at} was changed unseen");
        changed[at] = file[at];
        let without = [&file[..at], &file[at + 1..]].concat();
        assert!(read_export(&without).is_err(), "byte {at} was left out unseen");
    }
    // Cut behind the first entry it is a whole export of one visit; cut anywhere else it is none.
    let one = 42 + from_hex("visit.hex").len();
    let whole: Vec<usize> = (0..file.len()).filter(|end| read_export(&file[..*end]).is_ok()).collect();
    assert_eq!(whole, [one]);
}
