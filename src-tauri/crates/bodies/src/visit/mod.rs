//! The visit as an entry body: version 2 is written, 1 and 2 are read. The fields are frozen in `BODIES.md`.

mod answers;
mod body;
mod earlier;
mod finding;
pub(crate) mod instrument;
mod mounting;
mod outcome;
mod riser_pipe;
mod tape;
mod words;

pub use body::{VISIT, VISIT_VERSION, Visit};

pub(crate) use instrument::{read_limits, write_limits};
