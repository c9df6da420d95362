//! A proposal to the register as an entry body: version 1. The fields are frozen in `BODIES.md`.

mod body;
mod unit;

pub use body::{PROPOSAL, PROPOSAL_VERSION, Proposal, Proposed};
pub use unit::UnitFitted;
