//! Earlier visits to the instrument: how a register row lists them, what today's visit tells the next one, and
//! what they say together.
//!
//! A visit under way holds the list in its own copy of the register row, so that whoever holds the signed visit
//! holds what it rested on. Each line keeps the total offset the day's evidence called for with the density it holds
//! at: the riser's part follows the density, the sensor's own zero does not.

mod causes;
mod known;
mod lines;
mod past;
mod piece;
mod row;
mod today;
mod told;
mod usable;

pub use known::{KnownEarlier, KnownStanding};
pub use past::{Past, PastVisit, Plan};
pub use row::Earlier;
pub use told::told;

pub(super) use known::read;
pub(super) use piece::{remarks, work};
pub(super) use usable::{same_unit, usable};
