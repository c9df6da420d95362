//! An exported file from anywhere: read whole or refused whole, and what it holds is read as visits.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|file: &[u8]| {
    match record::read_export(file) {
        Ok(export) => {
            assert!(!export.entries.is_empty());
            for entry in &export.entries {
                assert_eq!(entry.header.log, export.key.log());
                // A visit of a newer program is refused; any other answer is as good here.
                let _ = bodies::Visit::of_entry(entry);
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
