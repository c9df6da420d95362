//! An exported file from anywhere: read whole or refused whole, and what it holds is read by its kind.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|file: &[u8]| {
    match record::read_export(file) {
        Ok(export) => {
            assert!(!export.entries.is_empty());
            for entry in &export.entries {
                assert_eq!(entry.header.log, export.key.log());
                let read = [
                    (bodies::VISIT, bodies::Visit::of_entry(entry).is_ok()),
                    (bodies::OBSERVATION, bodies::Observation::of_entry(entry).is_ok()),
                    (bodies::AMENDMENT, bodies::Amendment::of_entry(entry).is_ok()),
                    (bodies::PROPOSAL, bodies::Proposal::of_entry(entry).is_ok()),
                    (bodies::REVIEW, bodies::Review::of_entry(entry).is_ok()),
                    (bodies::RECEIPT, bodies::Receipt::of_entry(entry).is_ok()),
                    (bodies::CERTIFICATE, bodies::Certificate::of_entry(entry).is_ok()),
                    (bodies::REVOCATION, bodies::Revocation::of_entry(entry).is_ok()),
                    (bodies::CHANGE, bodies::Change::of_entry(entry).is_ok()),
                ];
                // What a newer program wrote is not read; what is read is of its kind.
                assert!(read.iter().all(|(kind, read)| !read || *kind == entry.header.kind));
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
