//! The check can fail: a register that states half of one uncertainty is found out.

use rstest::rstest;

use crate::kinds::{self, Kind};
use crate::site::Line;
use crate::tally::tally;

/// The line that matters most in its kind states half of what is drawn.
#[rstest]
#[case::accuracy(kinds::DIP.normal(), Line::Accuracy)]
#[case::allowance(kinds::RISER_AND_OFFSET_READ, Line::Allowance)]
#[case::composition(kinds::RISER_AND_VENTED.normal(), Line::Composition)]
#[case::fill_of_a_leg(kinds::WET_LEG_AND_EQUALISED.normal(), Line::Second)]
fn one_uncertainty_halved_is_found_out(#[case] kind: Kind, #[case] line: Line) {
    let seen = tally(&kind.halving(line), 4000);
    assert!(!seen.covers(), "half of what is true passed: {seen:?}");
}
