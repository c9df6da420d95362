//! Taking over what a damaged file still holds.
//!
//! The damaged file stays as it is, under its other name. Its pages are read one by one, without its index and without
//! SQLite, which gives up where the file's own map is broken: whatever looks like a row of ours is taken if it proves
//! itself. An entry is proved by its signature, and by its row's seal where the key was lost; everything else by its
//! seal. What is on a torn page is looked for at every byte of it. So nothing that can still be read is lost, and nothing
//! that is not as it was written gets in. One thing is left out though it can be read: a setting or a line of the register
//! of which two versions are found, because the page was spoilt that says which of them is of no use any more.
//!
//! What is missing afterwards is known as a gap of its log, or by a receipt that names more, and asked for in the next
//! exchange. The end of a log may be missed all the same, so the logs that this phone wrote are closed: it begins a new
//! one, and never writes a second entry at a place whose first one may be out in the world. The hub's news and its register
//! are followed from the start.

mod candidate;
mod cells;
mod find;
mod pages;
mod put;
mod take_over;
mod value;

pub use take_over::Salvaged;

pub(crate) use take_over::ever;
