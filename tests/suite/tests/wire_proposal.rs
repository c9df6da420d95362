//! The frozen example bytes of proposals to the register, body version 1. `wire/proposal-1/README.md` says what the file
//! holds.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use std::path::Path;

use bodies::{Confirmed, PROPOSAL, PersonId, Proposal, Proposed, Technician, UnitFitted};
use domain::visit::Limits;
use record::{Claimed, Link, NewEntry, PayloadHash, Signer, read_export, seal};
use suite::key;

fn frozen() -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("wire/proposal-1/proposals.headmark");
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn said(tag: &str, confirmed: Confirmed, what: Proposed) -> Proposal {
    Proposal {
        technician: Technician { person: PersonId(*b"invented person!"), confirmed },
        app: "0.1.0".into(),
        register: "Marrowby District Water, level instruments, 2026-11-20".into(),
        tag: tag.into(),
        what,
    }
}

fn code() -> Proposal {
    said("LT-2041", Confirmed::None, Proposed::Code("MDW/ASSET/40117\u{202e}\n\u{e9}".into()))
}

fn unit() -> Proposal {
    let limits = Limits {
        lrl: "-1 bar".into(),
        url: "2.5 bar".into(),
        min_span: "0.1 bar".into(),
        max_working: "6 bar".into(),
        trim_limit: String::new(),
        accuracy: "0.05 %".into(),
        zero_allowance: "1.5 mbar".into(),
    };
    let visit = PayloadHash(std::array::from_fn(|at| u8::try_from(at * 7 % 256).unwrap()));
    let unit = UnitFitted { before: "MW-30-20455".into(), serial: "MW-30-77001".into(), limits, visit };
    said("LT-3107", Confirmed::Pin, Proposed::Unit(Box::new(unit)))
}

/// The same content under the same key still makes the same bytes. Where this fails, what is in the field would be
/// written differently today: give the new form a new number, and leave the example alone.
#[test]
fn the_example_would_be_made_again_to_the_byte() {
    let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 60 };
    let new = NewEntry { link: Link::First, kind: PROPOSAL, body_version: 1, claimed, boot: None };
    let one = seal(&new, &code().encode().unwrap(), &key()).unwrap();
    let new = NewEntry { link: one.next(), ..new };
    let two = seal(&new, &unit().encode().unwrap(), &key()).unwrap();
    assert!([key().public().cose(), &one.bytes, &two.bytes].concat() == frozen(), "the export");
}

#[test]
fn the_example_verifies_and_says_what_was_said() {
    let file = frozen();
    let export = read_export(&file).unwrap();
    let [one, two] = &export.entries[..] else { panic!("two entries, not {}", export.entries.len()) };
    assert_eq!(
        (one.header.kind.0, one.header.body_version, two.header.previous),
        (4, 1, Some(one.id.payload))
    );
    assert_eq!(Proposal::of_entry(one).unwrap(), code());
    assert_eq!(Proposal::of_entry(two).unwrap(), unit());
    assert!(bodies::Visit::of_entry(one).is_err(), "it is no visit");
}
