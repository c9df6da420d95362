//! The frozen example bytes of a visit's body, version 2: what version 1 has, with the mounting, other instruments,
//! crew, interval and earlier visits of the register row, and evidence of the newer kinds. `wire/v2/README.md` says
//! what each file holds.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use std::path::Path;

use bodies::{Confirmed, PersonId, Technician, VISIT, Visit};
use domain::visit::{Finished, PieceKind};
use record::{Claimed, Link, NewEntry, Signer, open, read_export, seal, verify, write_export};
use suite::key;

fn frozen(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("wire/v2").join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// What the example says, as it was before anything was encoded.
fn said() -> Visit {
    let finished: Finished = serde_json::from_slice(&frozen("visit.json")).unwrap();
    let person = PersonId(*b"invented person!");
    Visit {
        technician: Technician { person, confirmed: Confirmed::Pin },
        app: "0.1.0".into(),
        finished,
        cited: vec![],
    }
}

fn exported() -> Vec<u8> {
    let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };
    let new = NewEntry { link: Link::First, kind: VISIT, body_version: 2, claimed, boot: None };
    let entry = seal(&new, &said().encode().unwrap(), &key()).unwrap();
    [key().public().cose(), &entry.bytes].concat()
}

/// The same content under the same key still makes the same bytes. Where this fails, what is in the field would be
/// written differently today: give the new form a new number, and leave the example alone.
#[test]
fn the_example_would_be_made_again_to_the_byte() {
    assert!(exported() == frozen("visit.headmark"), "the export");
}

#[test]
fn the_example_verifies_and_says_what_was_said() {
    let file = frozen("visit.headmark");
    let export = read_export(&file).unwrap();
    assert_eq!(export.key.cose(), key().public().cose());
    let [entry] = &export.entries[..] else { panic!("one entry, not {}", export.entries.len()) };
    verify(&open(entry.bytes).unwrap(), &export.key).unwrap();
    assert_eq!((entry.header.kind, entry.header.body_version), (VISIT, 2));
    let visit = Visit::of_entry(entry).unwrap();
    assert_eq!(visit, said());
    assert!(visit.encode().unwrap() == entry.body);
    assert!(write_export(&export.key, [entry.bytes]).unwrap() == file);
}

/// The content read with our own eyes and not through a second file.
#[test]
fn nothing_that_version_2_adds_is_lost() {
    let file = frozen("visit.headmark");
    let visit = Visit::of_entry(&read_export(&file).unwrap().entries[0]).unwrap();
    let row = visit.finished.instrument;
    let mounted = row.mounting.expect("it is mounted on a leg");
    assert_eq!((mounted.kind.as_str(), mounted.top.as_str()), ("wet_leg", "1.25 m"));
    assert_eq!(mounted.fill.expect("the leg is filled").density, "1041 kg/m3");
    assert_eq!(row.others[1].shares, "hatch density");
    assert!(row.crew.never_vent && row.crew.hatch_from_ground && !row.crew.climb);
    assert_eq!((row.interval.as_str(), row.earlier.len()), ("12 months", 2));
    assert_eq!(row.earlier[0].uncertainty, "0.09 kPa");
    assert!(row.earlier[1].moved && !row.earlier[0].moved);
    let kinds: Vec<_> = visit.finished.pieces.iter().map(|piece| piece.kind).collect();
    let newer = [PieceKind::Overflow, PieceKind::OtherInstrument, PieceKind::EarlierVisit, PieceKind::Dip];
    assert_eq!(kinds, newer);
}
