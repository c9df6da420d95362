//! Compares the domain with cases made outside the project: `oracle FILE`.
//!
//! `reference/oracle/cases.py` makes the file with public libraries; `reference/oracle/run` does both. Each quantity
//! says what it may differ by and why. Ends with a line for each quantity: how many cases, and the largest
//! difference in terms of what is allowed.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a panic is the message here, as in a test"
)]

mod case;
mod conversions;
mod evidence;
mod physics;

use std::process::ExitCode;

use case::{Case, Compared, cases};

/// A quantity's name and how one case of it is compared.
type Quantity = (&'static str, fn(&Case, &mut Compared));

const QUANTITIES: [Quantity; 16] = [
    ("water", physics::water),
    ("water_formulation", physics::water),
    ("viscosity", physics::viscosity),
    ("gravity", physics::gravity),
    ("air", physics::air),
    ("humid_air", physics::humid_air),
    ("columns", physics::columns),
    ("pipes", physics::pipes),
    ("reading_units", conversions::reading_units),
    ("lengths", conversions::lengths),
    ("temperatures", conversions::temperatures),
    ("currents", conversions::currents),
    ("reconciled", evidence::reconciled),
    ("budgets", evidence::budgets),
    ("coverage", evidence::coverage),
    ("conformance", evidence::conformance),
];

/// Fewer cases than this of any quantity are no comparison.
const LEAST: usize = 200;

fn main() -> ExitCode {
    let path = std::env::args().nth(1).expect("the file of cases");
    let file = std::fs::read_to_string(path).expect("a readable file of cases");
    let made = cases(&file);
    assert_eq!(made.len(), QUANTITIES.len(), "quantities made: {:?}", made.keys());
    let (mut passed, mut failed) = (0, 0);
    for (name, compare) in QUANTITIES {
        let cases = made.get(name).unwrap_or_else(|| panic!("no cases of {name}"));
        assert!(cases.len() >= LEAST, "only {} cases of {name}", cases.len());
        let mut compared = Compared::default();
        for case in cases {
            compared.of(case, compare);
        }
        println!("{name}: {} cases, {compared}", cases.len());
        passed += cases.len() - compared.failed();
        failed += compared.failed();
    }
    println!("{passed} passed, {failed} failed");
    if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
