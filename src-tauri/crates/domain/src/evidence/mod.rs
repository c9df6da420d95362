//! What the evidence of a visit says about the shift, how sure that is, and what may be claimed afterwards.
//!
//! A [`Case`] is built from *independent primitive inputs* and *equations* that use them. An input (a tape
//! length, a hatch height, a density, what the display may be off by) stands in the case once, however many
//! equations use it: that is the only way correlation is expressed, and nobody ever types in a covariance.
//!
//! The unknowns are the sensor's zero error `z`, the standing head `B`, the offsets the unit carried
//! (`c`, one for each state of the unit) and the levels `L`. Everything is in pascals as the display means
//! them, so the shift cannot depend on the unit it is shown in.
//!
//! ```text
//! reading   r  = z + c + B + k (L + v (t - lag))     k = (rho - rho_gas) g, times the unit's scale
//! vented    r0 = z + c + B_v
//! level     L  = floor + dip  |  hatch - drop  |  sill  |  crest + head over crest ...
//! tape      d  = read (1 + expansion (T - T checked) + stretch) - slant
//! riser     B  = sum of k H over its columns
//! offset    c  = what was read, cleared or recorded
//! allowance z  = 0, give or take
//! ```
//!
//! Whether a shift follows is decided by the rank of those equations, never by a list of cases. `k H` is a
//! product, so the linearised problem is iterated and covariances are taken at fitted values.
//!
//! # Choices
//!
//! * **The allowance on `z` is an assumption, not evidence.** It enters the shift only where the measured
//!   equations leave the shift open (a riser height alone). Where they determine it, the allowance would pull
//!   a measured result towards a guess, and an optimistic guess would pull hard; so it stays out, and a riser
//!   height beside a dip tells about `z` and not about the shift. The price: a poor vented check replaces a
//!   good allowance and may widen the uncertainty. The *check* of consistency does use the allowance, because
//!   there it can only raise a question.
//! * **`z` is the sensor's error at the pressure of the tank's zero.** A reading taken with the surface there
//!   carries no accuracy term; every other reading takes one (shared by all readings under head, its own for
//!   a vented check), and so does the allowance. One term, counted once, for what the sensor may change
//!   between the pressure it was read at and the pressure that matters.
//! * **Exact statements hold to 1 mPa and 0.1 micrometre.** A weight must be finite; a thousandth of anything
//!   that matters here is exact enough.

pub(crate) mod alarm;
mod alone;
mod case;
mod check;
mod column;
mod earlier;
mod equation;
mod error;
mod estimate;
mod fit;
mod input;
mod moving;
mod next_best;
mod over_span;
mod reconcile;
mod repeats;
mod series;
pub mod slips;
mod solved;
mod spikes;
mod spread;
mod student;
pub mod tape;
mod verdict;
mod ways;

#[cfg(test)]
mod tests;

pub use alone::{Alone, Pair};
pub use case::{Carried, Case, LevelId, OffsetId, Reading, ReferenceId};
pub use check::{Agreement, Consistency};
pub use column::Column;
pub use earlier::EarlierVisit;
pub use error::EvidenceError;
pub use estimate::{Assumption, BudgetRow, Estimate};
pub use input::{Amount, Dimension, Input, InputId};
pub use moving::{Bracket, Moved, Rate, straightness};
pub use next_best::Outlook;
pub use reconcile::{Ask, LevelError, Outcome, Reconciled, Rule};
pub use repeats::{Repeat, Repeats, Together};
pub use series::{Drift, Series};
pub use solved::Solved;
pub use spread::{Distribution, Spread};
pub(crate) use student::beyond_by_chance;
pub use student::coverage_95;
pub use verdict::{
    Advice, Conformity, Done, Limits, Proof, Verdict, advise, conformance_probability, judge, rule_sentence,
};
pub use ways::WayOut;
