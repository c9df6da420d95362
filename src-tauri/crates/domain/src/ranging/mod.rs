//! Ranges, sensor limits, the loop current, and where the standing head is taken out.
//!
//! Pressures here are as the display means them: what the sensor feels plus the total offset it carries.

mod band;
mod error;
pub mod five_point;
mod head_place;
mod limits;
mod range;
mod sizing;
#[cfg(test)]
mod sizing_tests;
#[cfg(test)]
mod tests;
mod ways;
mod wording;

pub use band::Band;
pub use error::RangingError;
pub use head_place::{HeadPlace, HeadQuestion};
pub use limits::{Judged, Judgement, LimitRule, Sensor, Unknown, total_offset};
pub use range::{Action, Range, current_at, fraction_at};
pub use sizing::{ErrorTerm, Expected, Misfit, Need, Offered, SensorErrors, Sized, size};
pub use ways::{RangePlan, Shown, Way, ways};
pub use wording::zero_wording;
