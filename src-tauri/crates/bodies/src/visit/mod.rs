//! The visit as an entry body: version 2 is written, 1 and 2 are read. The fields are frozen in `BODIES.md`.

mod answers;
mod body;
mod earlier;
mod finding;
mod instrument;
mod mounting;
mod outcome;
mod riser_pipe;
mod tape;
mod words;

pub use body::{PersonId, Technician, VISIT, VISIT_VERSION, Visit};
pub use words::Confirmed;

pub(crate) use instrument::{read_limits, write_limits};
