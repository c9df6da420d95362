//! What entries say: the domain's finished things as entry bodies, and back.
//!
//! A body is one map of deterministic CBOR with whole numbers as keys; `BODIES.md` beside this crate lists them,
//! frozen. Measured and computed numbers are decimal fractions beside the text as typed; there are no floats.
//!
//! Reading is strict: what would be written differently is refused, so one visit has one form. What a newer
//! program wrote is not guessed at: [`Error::Newer`] says so, and the bytes stay as they are.

mod codec;
mod error;
mod proposal;
mod visit;

pub use error::Error;
pub use proposal::{PROPOSAL, PROPOSAL_VERSION, Proposal, Proposed, UnitFitted};
pub use visit::{Confirmed, PersonId, Technician, VISIT, VISIT_VERSION, Visit};
