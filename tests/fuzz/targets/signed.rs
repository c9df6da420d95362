//! Something signed that is no entry, from anywhere: it opens or says why not, and only what was signed verifies.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use record::PublicKey;

const AAD: &[u8] = b"headmark/page/1";

/// The frozen example; its secret key is public, but no fuzzer guesses a signature.
const EXAMPLE: &[u8] = include_bytes!("../../suite/wire/signed-1/signed.cose");

/// The key of the examples stands at the beginning of an export.
static KEY: LazyLock<PublicKey> = LazyLock::new(|| {
    let export = include_bytes!("../../suite/wire/v1/two-visits.headmark");
    record::read_export(export).expect("the example is sound").key
});

fuzz_target!(|bytes: &[u8]| {
    match record::open_signed(AAD, bytes) {
        Ok(signed) => {
            let held = signed.verify(&KEY).is_ok();
            assert_eq!(held, bytes == EXAMPLE, "it verifies, and was never signed so");
        }
        Err(error) => assert!(!error.to_string().is_empty() && bytes != EXAMPLE),
    }
});
