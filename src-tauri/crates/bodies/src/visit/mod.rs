//! The visit as an entry body, version 1. Its fields are frozen in `BODIES.md`.

mod answers;
mod body;
mod instrument;
mod outcome;
mod words;

pub use body::{PersonId, Technician, VISIT, VISIT_VERSION, Visit};
pub use words::Confirmed;
