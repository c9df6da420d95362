//! Finding an instrument from what a person remembers or can read of its tag.
//!
//! A search offers and never chooses. The tag that is exactly what was typed comes first and its near
//! neighbours stand beside it, because a digit read wrongly off a plate is a wrong tower. Folding makes one of tags that
//! are two (`FI-101` and `FL-101`, `LT-1-11` and `LT-11-1`): of those the one as written comes first, and where what was
//! typed may be either, none is called exact. Among the neighbours those that are due, near or were visited come first,
//! then the likelier slip. After them come tags that begin with or hold what was typed, then instruments whose service,
//! site or serial number hold its words.

mod index;
mod lines;
mod offered;
mod slip;
mod words;

pub(crate) use index::Index;
pub(crate) use offered::Offered;
