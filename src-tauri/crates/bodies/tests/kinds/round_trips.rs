//! There and back, for every kind alike.

use bodies::{
    AMENDMENT, AMENDMENT_VERSION, Amendment, CERTIFICATE, CERTIFICATE_VERSION, CHANGE, CHANGE_VERSION,
    Certificate, Change, Error, OBSERVATION, OBSERVATION_VERSION, Observation, RECEIPT, RECEIPT_VERSION,
    REVIEW, REVIEW_VERSION, REVOCATION, REVOCATION_VERSION, Receipt, Review, Revocation, VISIT, Visit,
};
use proptest::prelude::*;
use record::cbor::check;
use record::{Claimed, Kind, Link, NewEntry, SecretKey, open, seal};

use crate::{any, plain};

/// An entry of a kind and version, with this body.
fn entry(kind: Kind, body_version: u32, body: &[u8]) -> Vec<u8> {
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let new = NewEntry { link: Link::First, kind, body_version, claimed, boot: None };
    seal(&new, body, &SecretKey::take(&mut [3; 32])).unwrap().bytes
}

/// The same questions to each kind: its type, kind and version, any of it, one of it, and what its kind's number is by
/// `FORMAT.md`.
macro_rules! round_trips {
    ($name:ident, $body:ident, $kind:ident = $number:literal, $version:ident = $newest:literal) => {
        mod $name {
            use super::*;

            proptest! {
                #![proptest_config(ProptestConfig::with_cases(128))]

                #[test]
                fn comes_back(said in any::$name()) {
                    let body = said.encode().unwrap();
                    prop_assert_eq!(check(&body), Ok(()));
                    let read = $body::decode($version, &body).unwrap();
                    prop_assert_eq!(&read, &said);
                    prop_assert_eq!(read.encode().unwrap(), body);
                }

                /// A changed byte is something else or nothing: it never reads as the same.
                #[test]
                fn no_two_bodies_say_one_thing(
                    said in any::$name(), at in any::<prop::sample::Index>(), to in any::<u8>(),
                ) {
                    let body = said.encode().unwrap();
                    let mut changed = body.clone();
                    changed[at.index(body.len())] = to;
                    prop_assume!(changed != body);
                    prop_assert!($body::decode($version, &changed) != Ok(said));
                }

                #[test]
                fn no_part_of_it_is_taken(said in any::$name()) {
                    let body = said.encode().unwrap();
                    for end in 0..body.len() {
                        prop_assert!($body::decode($version, &body[..end]).is_err(), "cut at {}", end);
                    }
                    prop_assert!($body::decode($version, &[&body[..], b"\xa0"].concat()).is_err());
                }

                #[test]
                fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
                    prop_assert!($body::decode($version, &bytes).is_err());
                }
            }

            #[test]
            fn goes_through_an_entry_of_its_kind_only() {
                assert_eq!(($kind, $version), (Kind($number), $newest));
                let said = plain::$name();
                let body = said.encode().unwrap();
                assert_eq!($body::of_entry(&open(&entry($kind, $version, &body)).unwrap()), Ok(said));
                for other in (0..12).chain([u32::MAX]).filter(|other| *other != $number) {
                    let bytes = entry(Kind(other), $version, &body);
                    let held = open(&bytes).unwrap();
                    assert_eq!($body::of_entry(&held), Err(Error::OtherKind(other)));
                    assert_eq!(held.bytes, bytes, "what nobody knows is kept as it came");
                }
                let visit = Visit::of_entry(&open(&entry(VISIT, 2, &body)).unwrap());
                assert!(matches!(visit, Err(Error::Malformed { .. })), "{visit:?}");
            }

            #[test]
            fn a_newer_version_is_told_and_kept() {
                let body = plain::$name().encode().unwrap();
                let bytes = entry($kind, $newest + 1, &body);
                let held = open(&bytes).unwrap();
                let error = $body::of_entry(&held).unwrap_err();
                assert!(matches!(error, Error::Newer { number, .. } if number == $newest + 1), "{error:?}");
                assert!(error.to_string().contains("update"), "{error}");
                assert_eq!(held.bytes, bytes);
                assert!(matches!($body::decode(0, &body), Err(Error::Malformed { place: "version" })));
            }
        }
    };
}

round_trips!(observation, Observation, OBSERVATION = 2, OBSERVATION_VERSION = 1);
round_trips!(amendment, Amendment, AMENDMENT = 3, AMENDMENT_VERSION = 1);
round_trips!(review, Review, REVIEW = 5, REVIEW_VERSION = 1);
round_trips!(receipt, Receipt, RECEIPT = 6, RECEIPT_VERSION = 1);
round_trips!(certificate, Certificate, CERTIFICATE = 7, CERTIFICATE_VERSION = 1);
round_trips!(revocation, Revocation, REVOCATION = 8, REVOCATION_VERSION = 1);
round_trips!(change, Change, CHANGE = 9, CHANGE_VERSION = 2);
