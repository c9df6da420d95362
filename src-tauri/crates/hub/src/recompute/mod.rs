//! Working visits out again: the answers that were signed must lead to the numbers that were signed.

mod compare;
mod job;
mod words;

pub use compare::{Difference, compare};
pub use job::{work_off, work_through};
pub use words::{detail, said};
