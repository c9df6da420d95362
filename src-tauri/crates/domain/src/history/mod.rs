//! An instrument over its visits: how its standing offset drifts, where it stepped, when to come back.
//!
//! The *standing offset* of a visit is the total offset that the evidence of that day called for, whether the
//! unit was trimmed to it or not: `-(z + B)`. The standing head `B` follows the liquid's density, so every
//! visit is first brought to one common density ([`at_common_density`]); what still changes is the sensor's
//! zero. A step of the run is either known from outside (another serial fitted, the transmitter moved: the
//! history starts anew) or only seen in the numbers (a [`OffsetStep`] with its significance).
//!
//! This room stands beside `evidence` and not within it: evidence weighs one day by its independent inputs,
//! and here each visit is one number with one uncertainty. Times are given, never asked of a clock.
//!
//! # Choices
//!
//! * **Drift is a straight line by weighted least squares.** The visits' own uncertainties are the weights and
//!   give the line's uncertainty. They hold causes that all visits share (one tape, one hatch height), which
//!   shift the line and do not tilt it: the uncertainty of the drift is then on the safe side.
//! * **Scatter that those uncertainties do not explain is a component of its own**, estimated from `n - p`
//!   residuals, and widens both the standard uncertainty and, through its few degrees of freedom, the coverage.
//!   Scatter below what was stated narrows nothing.
//! * **A step is named only where chance makes one as large in fewer than one of a thousand histories that
//!   merely drift**, all places counted together, and only with two visits or more on either side: with one, a
//!   step and a bad visit look alike.
//! * **The staircase of ILAC-G24 is a rule without numbers.** The guide gives 80 % as an example; the factors are
//!   ours and are data ([`Staircase`]).

mod drift;
mod error;
mod line;
mod seen;
mod staircase;
mod steps;

#[cfg(test)]
mod tests;

pub use drift::{Drift, History, look};
pub use error::NotJudged;
pub use seen::{Fresh, Seen, at_common_density};
pub use staircase::{Act, Months, NextInterval, Staircase};
pub use steps::OffsetStep;
