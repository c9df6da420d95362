//! Does the stated 95 % interval hold the truth 95 times in 100?
//!
//! Ten thousand visits are simulated for each kind of evidence. The simulator knows the true tower, draws every
//! error from the distribution the visit states for it, and types what a person would have read into a draft;
//! `domain::visit::assess` sees those texts and nothing else. Its physics is its own (`nature`): another formula
//! for water, for air and for gravity than the domain's.
//!
//! Beside each kind stands the interval of JCGM 101 on the same visits, every one of them: distributions propagated
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
mod draws;
mod earlier;
mod halved;
mod kinds;
mod mount;
mod moving;
mod nature;
mod site;
mod tally;
mod told;
mod trials;
mod visit;

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
#[case::another_instrument(kinds::OTHER_INSTRUMENT)]
#[case::another_instrument_by_hatch(kinds::OTHER_BY_HATCH)]
#[case::another_instrument_by_density(kinds::OTHER_BY_DENSITY)]
#[case::earlier_visit_and_offset_read(kinds::EARLIER_AND_OFFSET_READ.trusted())]
#[case::earlier_visit_and_drop(kinds::EARLIER_AND_DROP.trusted())]
#[case::above_the_datum_and_vented(kinds::ABOVE_AND_VENTED)]
#[case::probe_and_vented(kinds::PROBE_AND_VENTED)]
#[case::dry_leg_and_equalised(kinds::DRY_LEG_AND_EQUALISED)]
#[case::wet_leg_and_equalised(kinds::WET_LEG_AND_EQUALISED)]
#[case::interface_and_equalised(kinds::INTERFACE_AND_EQUALISED)]
#[case::one_seal_and_offset_read(kinds::ONE_SEAL_AND_OFFSET_READ.trusted())]
#[case::two_seals_and_offset_read(kinds::TWO_SEALS_AND_OFFSET_READ.trusted())]
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
#[case::slanted_line(kinds::SLANTED_DIP)]
#[case::flow_in_the_riser(kinds::FLOWING_DIP)]
#[case::flow_at_some_rate(kinds::FLOWING_AT_SOME_RATE)]
#[case::flow_or_none(kinds::FLOWING_OR_NOT)]
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
#[case::other_instrument_by_density(kinds::OTHER_BY_DENSITY)]
#[case::vented_check_with_a_stub(kinds::VENTED_WITH_STUB)]
#[case::dip_carried_by_the_series(kinds::CARRIED_DIP)]
#[case::above_the_datum_and_vented(kinds::ABOVE_AND_VENTED)]
#[case::line_of_its_own_temperature(kinds::OWN_LINE_AND_VENTED)]
#[case::probe_and_vented(kinds::PROBE_AND_VENTED)]
#[case::dry_leg_and_equalised(kinds::DRY_LEG_AND_EQUALISED)]
#[case::wet_leg_and_equalised(kinds::WET_LEG_AND_EQUALISED)]
#[case::one_seal_and_offset_read(kinds::ONE_SEAL_AND_OFFSET_READ)]
#[case::two_seals_and_offset_read(kinds::TWO_SEALS_AND_OFFSET_READ)]
#[case::interface_and_equalised(kinds::INTERFACE_AND_EQUALISED)]
#[case::interface_and_another_instrument(kinds::INTERFACE_AND_OTHER)]
#[case::wet_leg_and_dip(kinds::WET_LEG_AND_DIP)]
#[case::wet_leg_and_offset_read(kinds::WET_LEG_AND_OFFSET_READ)]
#[case::everything(kinds::EVERYTHING)]
fn as_people_work(#[case] kind: Kind) {
    let seen = tally(&kind, VISITS);
    assert!(seen.covers() && seen.narrow(), "{seen:?}");
}
