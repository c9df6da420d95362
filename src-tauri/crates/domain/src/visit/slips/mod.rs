//! Slips the numbers give away, as a person is told of them: what was seen, what was expected, what likely happened and
//! how to tell.
//!
//! `scene` says which number of the case is what, so that [`crate::evidence::slips`] can try every slip in it; the
//! standing head that the register's heights and fills make joins the case here as one more reference, because nothing of the
//! day's shift rests on it; `beside` tells what a mounting has beside a riser. `head`
//! asks whether the offset on the unit is the wrong way round, `told` compares display, loop and control room.
//! `numbers` and `words` put what was found into sentences.

mod beside;
mod find;
mod head;
mod numbers;
mod scene;
mod short;
mod slip;
mod told;
mod words;
mod words_beside;

pub(super) use find::{Visit, find, in_the_numbers};
pub(in crate::visit) use short::short;
pub(in crate::visit) use slip::said_once;
pub use slip::{Slip, SlipCause};
