//! The visit as data: eight steps, what each asks, what has been answered, and what follows from it.
//!
//! A visit is kept as *answers*: the text a person typed or the choice they made, at a *spot*, with the time.
//! Everything else (parsed numbers, the shift, the verdict, what is still missing) is worked out from the
//! answers and the instrument's register row by [`assess`], so a draft that was interrupted anywhere opens
//! where it stopped, and anyone who holds a signed visit can work it out again.

mod answers;
mod asks;
mod choice;
mod finished;
mod instrument;
mod key;
mod remark;
pub mod safety;
mod step;

pub use answers::{Answer, Answers, Draft, Moment, Piece, PieceId, PieceKind, Spot, Timing};
pub use asks::{Ask, Opt, Takes, asks, piece_asks};
pub use choice::Choice;
pub use finished::{Answered, Finished, Measured, ResultKey, ResultLine, Said, WorkLine};
pub use instrument::{Hazards, Instrument, Limits, Liquid, Site, Tape};
pub use key::Key;
pub use remark::{Doubt, Grade, Remark};
pub use step::Step;
