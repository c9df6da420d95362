//! A length as people type it: refused with a way out, or a number that is read back from what is printed.
#![no_main]

use domain::quantity::{LengthSystem, print_length, read_length};
use libfuzzer_sys::fuzz_target;
use uom::si::length::meter;

/// Half a sixteenth of an inch is the coarsest a length is printed to.
const COARSEST: f64 = 0.0254 / 16.0;

fn check(text: &str, people: LengthSystem) {
    let entry = match read_length(text, people) {
        Ok(entry) => entry,
        Err(problem) => return assert!(!problem.what().is_empty() && !problem.remedy().is_empty()),
    };
    let value = entry.value.get::<meter>();
    assert!(value.is_finite());
    for system in [LengthSystem::Metres, LengthSystem::Feet] {
        let printed = print_length(entry.value, system.style());
        let again = read_length(&printed, system).map(|entry| entry.value.get::<meter>());
        let again =
            again.unwrap_or_else(|problem| panic!("{printed:?} is not read again: {}", problem.what()));
        assert!((again - value).abs() <= COARSEST, "{text:?} is printed as {printed:?}");
    }
}

fuzz_target!(|text: &str| {
    check(text, LengthSystem::Metres);
    check(text, LengthSystem::Feet);
});
