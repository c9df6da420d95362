//! What is signed and is no entry: the form of `record/FORMAT.md`, frozen.

use record::{PublicKey, Signer, open_signed, sign_bytes};

use super::{frozen, key};

const AAD: &[u8] = b"headmark/page/1";

/// `{1: "Sedge Hill", 2: [1, 2]}`: what a page holds is not known here.
const PAYLOAD: &[u8] = b"\xa2\x01\x6aSedge Hill\x02\x82\x01\x02";

#[test]
fn the_example_would_be_made_again_to_the_byte() {
    assert!(sign_bytes(AAD, PAYLOAD, &key()).unwrap() == frozen("signed-1/signed.cose"));
}

#[test]
fn the_example_verifies_for_its_use_only() {
    let bytes = frozen("signed-1/signed.cose");
    let public = PublicKey::from_cose(key().public().cose()).unwrap();
    let signed = open_signed(AAD, &bytes).unwrap();
    signed.verify(&public).unwrap();
    assert_eq!((signed.log, signed.payload), (public.log(), PAYLOAD));
    assert!(open_signed(b"headmark/page/2", &bytes).unwrap().verify(&public).is_err());
}

#[test]
fn no_byte_of_it_can_be_changed() {
    let bytes = frozen("signed-1/signed.cose");
    let mut changed = bytes.clone();
    for at in 0..bytes.len() {
        for by in 1..=255 {
            changed[at] = bytes[at] ^ by;
            let taken = open_signed(AAD, &changed).and_then(|signed| signed.verify(key().public()));
            assert!(taken.is_err(), "byte {at} was changed by {by} unseen");
        }
        changed[at] = bytes[at];
    }
}
