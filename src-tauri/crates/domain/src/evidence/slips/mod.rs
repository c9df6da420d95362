//! Slips the numbers give away: a unit, a sign, a mark, air in the riser.
//!
//! Equations in which no unknown is left compare the numbers of a visit with each other (`misfit`). Where they are
//! further apart than honest numbers come to be, every slip of the catalogue is tried: would the numbers fit if this
//! one had been made? What a slip would have done is a move of one or more numbers, by a known step (a ratio of units, a
//! height on the tank) or by something within limits (air in the riser) (`change`). The slips that make the numbers fit
//! are ranked by how likely the numbers are under each, times how common the slip is (`rank`).
//!
//! A slip is only spoken of where something independent of the suspected number says what it should have been: a number
//! that stands in no comparison moves none, so no slip in it can make anything fit. Nothing here blocks anything.
//!
//! No comparison can see water columns at 60 or 68 degF taken for conventional ones (0.1 and 0.2 %): nothing here
//! claims them.

mod beside;
mod catalogue;
mod cause;
mod change;
mod current;
mod length;
mod misfit;
mod rank;
mod reading;
mod scene;
mod state;
mod units;

pub use cause::{Cause, Mark, Part};
pub use current::{CurrentCause, CurrentSeen, RoomCause, current_causes, room_causes};
pub use rank::{Likely, Misfitting, apart, look};
pub use scene::{ByRegister, Leg, Measure, Reach, Register, Scene, Shown, Tape, TapeWay};
pub use state::{OffsetState, offset_state};
pub use units::{LENGTH_PAIRS, PRESSURE_PAIRS, UnitPair, taken_for};
