//! A body from anywhere, taken for every kind and version: what is read is written again as the same bytes.
#![no_main]

use bodies::{
    AMENDMENT_VERSION, Amendment, CERTIFICATE_VERSION, CHANGE_VERSION, Certificate, Change, Error,
    OBSERVATION_VERSION, Observation, PROPOSAL_VERSION, Proposal, RECEIPT_VERSION, REVIEW_VERSION,
    REVOCATION_VERSION, Receipt, RegisterRow, Review, Revocation, VISIT_VERSION, Visit,
};
use libfuzzer_sys::fuzz_target;

/// Reads the body as one kind, in each of its versions and the one after.
fn read<T>(
    body: &[u8],
    newest: u32,
    decode: impl Fn(u32, &[u8]) -> Result<T, Error>,
    encode: impl Fn(&T) -> Result<Vec<u8>, Error>,
) {
    for version in 1..=newest {
        match decode(version, body) {
            Ok(said) => assert_eq!(encode(&said).expect("what was read can be written"), body),
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
    assert!(
        matches!(decode(newest + 1, body), Err(Error::Newer { .. })),
        "a later version is not guessed at"
    );
}

fuzz_target!(|body: &[u8]| {
    read(body, VISIT_VERSION, Visit::decode, Visit::encode);
    read(body, OBSERVATION_VERSION, Observation::decode, Observation::encode);
    read(body, AMENDMENT_VERSION, Amendment::decode, Amendment::encode);
    read(body, PROPOSAL_VERSION, Proposal::decode, Proposal::encode);
    read(body, REVIEW_VERSION, Review::decode, Review::encode);
    read(body, RECEIPT_VERSION, Receipt::decode, Receipt::encode);
    read(body, CERTIFICATE_VERSION, Certificate::decode, Certificate::encode);
    read(body, REVOCATION_VERSION, Revocation::decode, Revocation::encode);
    read(body, CHANGE_VERSION, Change::decode, Change::encode);
    match RegisterRow::decode(body) {
        Ok(row) => assert_eq!(row.encode().expect("what was read can be written"), body),
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
