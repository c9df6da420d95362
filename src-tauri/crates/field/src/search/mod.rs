//! Finding an instrument from what a person remembers or can read of its tag.
//!
//! A search offers and never chooses. The tag that is exactly what was typed comes first and its near
//! neighbours stand beside it, because a digit read wrongly off a plate is a wrong tower. Among the neighbours
//! those that were offered just before (due, near, visited) come first, then the likelier slip. After them come tags that begin with or hold what was typed, then instruments
//! whose service, site or serial number hold its words.

mod index;
mod lines;
mod offered;
mod slip;
mod words;

pub(crate) use index::Index;
pub(crate) use offered::Offered;
