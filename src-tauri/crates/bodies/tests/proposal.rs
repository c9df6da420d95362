//! Proposals to the register as bodies: there and back, and nothing else taken.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a panic here is the message")]

use bodies::{Confirmed, Error, PROPOSAL_VERSION, PersonId, Proposal, Proposed, Technician, UnitFitted};
use domain::visit::Limits;
use proptest::prelude::{Strategy, prop_assert_eq, prop_oneof, proptest};
use record::PayloadHash;
use rstest::rstest;

fn with(what: Proposed) -> Proposal {
    let technician = Technician { person: PersonId(*b"invented person!"), confirmed: Confirmed::None };
    let register = "Marrowby District Water, 2026-11-20".into();
    Proposal { technician, app: "0.1.0".into(), register, tag: "LT-2041".into(), what }
}

fn limits() -> Limits {
    Limits {
        lrl: "-14 psi".into(),
        url: "50 psi".into(),
        min_span: "2.5 psi".into(),
        max_working: "100 psi".into(),
        trim_limit: String::new(),
        accuracy: "0.05 %".into(),
        zero_allowance: "0.03 psi".into(),
    }
}

fn unit() -> Proposed {
    Proposed::Unit(Box::new(UnitFitted {
        before: "MW-50-11873".into(),
        serial: "MW-50-20001".into(),
        limits: limits(),
        visit: PayloadHash([0xAB; 32]),
    }))
}

#[rstest]
#[case::a_code(Proposed::Code("https://id.marrowby.example/i/LT-2041".into()))]
#[case::a_code_that_is_no_text_for_people(Proposed::Code("\u{202e}\u{0}<a href=x>\n".into()))]
#[case::another_unit(unit())]
fn what_is_proposed_comes_back(#[case] what: Proposed) {
    let proposal = with(what);
    let body = proposal.encode().unwrap();
    assert_eq!(Proposal::decode(PROPOSAL_VERSION, &body).unwrap(), proposal);
}

fn any_what() -> impl Strategy<Value = Proposed> {
    let unit = (".{0,30}", ".{0,30}", ".{0,12}", proptest::array::uniform32(0u8..)).prop_map(
        |(before, serial, lrl, hash)| {
            let limits = Limits { lrl, ..limits() };
            Proposed::Unit(Box::new(UnitFitted { before, serial, limits, visit: PayloadHash(hash) }))
        },
    );
    prop_oneof![".{0,400}".prop_map(Proposed::Code), unit]
}

proptest! {
    #[test]
    fn whatever_is_proposed_comes_back(what in any_what(), tag in ".{0,30}") {
        let proposal = Proposal { tag, ..with(what) };
        let body = proposal.encode().unwrap();
        prop_assert_eq!(Proposal::decode(PROPOSAL_VERSION, &body).unwrap(), proposal);
    }
}

#[test]
fn a_newer_version_is_told_as_that_and_one_of_nought_is_none() {
    let body = with(unit()).encode().unwrap();
    assert!(matches!(Proposal::decode(2, &body), Err(Error::Newer { number: 2, .. })));
    assert!(matches!(Proposal::decode(0, &body), Err(Error::Malformed { .. })));
}

/// The body of a code's proposal, with what stands behind the technician exchanged.
fn changed(from: &[u8], to: &[u8]) -> Result<Proposal, Error> {
    let body = with(Proposed::Code("X".into())).encode().unwrap();
    let at = body.windows(from.len()).position(|part| part == from).unwrap();
    let body = [&body[..at], to, &body[at + from.len()..]].concat();
    Proposal::decode(PROPOSAL_VERSION, &body)
}

// 05 61 58: key 5, a text of one letter, X. The map's head says that it has five fields: a5.
#[rstest]
#[case::nothing_proposed(b"\x05\x61\x58", b"")]
#[case::a_field_of_a_later_version(b"\x05\x61\x58", b"\x07\x61\x58")]
#[case::no_text(b"\x05\x61\x58", b"\x05\x01")]
#[case::both(b"\x05\x61\x58", b"\x05\x61\x58\x06\xa0")]
fn what_is_not_in_the_one_form_is_refused(#[case] from: &[u8], #[case] to: &[u8]) {
    assert!(changed(from, to).is_err());
}
