//! The body of a visit from anywhere: what is read is written again as the same bytes.
#![no_main]

use bodies::{VISIT_VERSION, Visit};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| {
    for version in 1..=VISIT_VERSION {
        match Visit::decode(version, body) {
            Ok(visit) => assert_eq!(visit.encode().expect("what was read can be written"), body),
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
});
