//! Proving a whole file: an export of one log, or a bundle of anyone's entries.

mod file;
mod report;
mod vouching;

pub use file::{Proved, prove};
pub use report::{Failing, Report};
