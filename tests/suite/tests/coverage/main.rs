//! Does the stated 95 % interval hold the truth 95 times in 100?
//!
//! Ten thousand visits are simulated for each kind of evidence. The simulator knows the true tower, draws every
//! error from the distribution the visit states for it, and types what a person would have read into a draft;
//! `domain::visit::assess` sees those texts and nothing else. Its physics is its own (`nature`): another formula
//! for water, for air and for gravity than the domain's.
//!
//! Beside each kind stands the interval of JCGM 101 on every tenth of the same visits: distributions propagated
//! by drawing (`trials`), probabilistically symmetric, without sensitivities, degrees of freedom or coverage
//! factors. The domain's interval may be wider than that one, but not by much, and not narrower than the truth
//! allows.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout // The coverage is worth seeing when it passes, too.
)]

mod chance;
mod corrected;
mod earlier;
mod halved;
mod kinds;
mod nature;
mod site;
mod tally;
mod told;
mod trials;
mod visit;
mod wet_leg;

use kinds::Kind;
use rstest::rstest;
use tally::tally;

/// How many visits of each kind.
const VISITS: u32 = 10_000;

/// Every line of the budget is normal and its standard uncertainty known: the interval must be right, not only safe.
#[rstest]
#[case::drop(kinds::DROP)]
#[case::dip(kinds::DIP)]
#[case::riser_and_vented_check(kinds::RISER_AND_VENTED)]
#[case::two_dips(kinds::TWO_DIPS)]
#[case::dip_and_riser_and_vented_check(kinds::DIP_RISER_VENTED)]
fn normal_and_known(#[case] kind: Kind) {
    let seen = tally(&kind.normal(), VISITS);
    assert!(seen.covers() && seen.narrow(), "{seen:?}");
}

/// As people work: rectangles of what is written down, few repeats, seasons, moving levels.
#[rstest]
#[case::known_empty(kinds::KNOWN_EMPTY)]
#[case::empty_by_steady_reading(kinds::EMPTY_BY_STEADY_READING)]
#[case::empty_by_report(kinds::EMPTY_BY_REPORT)]
#[case::dip(kinds::DIP)]
#[case::three_dips(kinds::THREE_DIPS)]
#[case::dips_in_a_swell(kinds::DIPS_IN_A_SWELL)]
#[case::drop(kinds::DROP)]
#[case::true_at_reference(kinds::TRUE_AT_REFERENCE)]
#[case::riser_and_offset_read(kinds::RISER_AND_OFFSET_READ)]
#[case::riser_and_offset_cleared(kinds::RISER_AND_OFFSET_CLEARED)]
#[case::riser_and_offset_on_record(kinds::RISER_AND_OFFSET_ON_RECORD)]
#[case::riser_and_vented_check(kinds::RISER_AND_VENTED)]
#[case::riser_by_laser_and_vented_check(kinds::LASER_AND_VENTED)]
#[case::riser_off_a_drawing_and_vented_check(kinds::DRAWING_AND_VENTED)]
#[case::display_read_again(kinds::READ_AGAIN)]
#[case::warm_tape(kinds::WARM_DIP)]
#[case::flow_in_the_riser(kinds::FLOWING_DIP)]
#[case::two_dips(kinds::TWO_DIPS)]
#[case::dip_and_riser(kinds::DIP_AND_RISER)]
#[case::dip_and_riser_and_vented_check(kinds::DIP_RISER_VENTED)]
#[case::moving_level(kinds::MOVING_LEVEL)]
#[case::blocked_vent(kinds::BLOCKED_VENT)]
#[case::earlier_visit_and_offset_read(kinds::EARLIER_AND_OFFSET_READ)]
#[case::earlier_visit_and_drop(kinds::EARLIER_AND_DROP)]
#[case::overflow_film(kinds::OVERFLOW_FILM)]
#[case::overflow_head(kinds::OVERFLOW_HEAD)]
#[case::other_instrument(kinds::OTHER_INSTRUMENT)]
#[case::other_instrument_by_hatch(kinds::OTHER_BY_HATCH)]
#[case::wet_leg_and_dip(kinds::WET_LEG_AND_DIP)]
#[case::wet_leg_and_offset_read(kinds::WET_LEG_AND_OFFSET_READ)]
#[case::everything(kinds::EVERYTHING)]
fn as_people_work(#[case] kind: Kind) {
    let seen = tally(&kind, VISITS);
    assert!(seen.covers() && seen.narrow(), "{seen:?}");
}
