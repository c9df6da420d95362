//! Every other number as people type it: refused with a way out, or a finite number; and the units of displays.
#![no_main]

use std::fmt::Debug;

use domain::quantity::{
    EntryProblem, ReadingUnit, TemperatureScale, read_density, read_number, read_percent, read_pressure,
    read_temperature,
};
use libfuzzer_sys::fuzz_target;

/// Everything that was read is shown by its debug form, which says `NaN` and `inf` where a number is none.
fn check<E: Debug, T: Clone + Debug>(read: Result<E, EntryProblem<T>>) {
    match read {
        Ok(entry) => {
            let shown = format!("{entry:?}");
            assert!(!shown.contains("NaN") && !shown.contains("inf"), "{shown}");
        }
        Err(problem) => assert!(!problem.what().is_empty() && !problem.remedy().is_empty()),
    }
}

fuzz_target!(|text: &str| {
    check(read_number(text));
    check(read_percent(text));
    check(read_pressure(text));
    check(read_density(text));
    check(read_temperature(text, None));
    check(read_temperature(text, Some(TemperatureScale::Celsius)));
    match ReadingUnit::parse(text) {
        Ok(unit) => assert_eq!(ReadingUnit::parse(&unit.symbol()), Ok(unit)),
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
