//! What is held elsewhere, as signed receipts say, and what that means for the records here.
//!
//! A receipt counts only where the hashes at the ends of its runs are ours: the end commits to all of the chain before
//! it. The hub's count in its present epoch; those of an earlier epoch are history, because the hub was restored since.
//! Another phone's receipt says that there is a second copy, and no more.

mod coverage;
mod held;
mod photo;
mod state;

pub use state::{Counts, Stands, VisitState, Waiting};

pub(crate) use coverage::{passed_on, said};
pub(crate) use held::{newest, put};
pub(crate) use photo::{has_photo, photo_grade};
