//! An entry from anywhere: it opens or says why not, and only what was signed verifies.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::{Corpus, fuzz_target};
use record::{EntryId, Export, PublicKey};

/// The frozen example of two visits; its secret key is public, but no fuzzer guesses a signature.
const EXAMPLE: &[u8] = include_bytes!("../../suite/wire/v1/two-visits.headmark");

static SIGNED: LazyLock<(PublicKey, Vec<EntryId>)> = LazyLock::new(|| {
    let Export { key, entries, .. } = record::read_export(EXAMPLE).expect("the example is sound");
    let ids = entries.iter().map(|entry| entry.id).collect();
    (key, ids)
});

fuzz_target!(|bytes: &[u8]| -> Corpus {
    let entry = match record::open(bytes) {
        Ok(entry) => entry,
        Err(error) => {
            assert!(!error.to_string().is_empty());
            return Corpus::Keep;
        }
    };
    let (key, ids) = &*SIGNED;
    if record::verify(&entry, key).is_ok() {
        assert!(ids.contains(&entry.id), "an entry verifies that was never signed");
    }
    Corpus::Keep
});
