//! What entries say: the domain's finished things as entry bodies, and back.
//!
//! A body is one map of deterministic CBOR with whole numbers as keys; `BODIES.md` beside this crate lists them,
//! frozen. Measured and computed numbers are decimal fractions beside the text as typed; there are no floats.
//!
//! Reading is strict: what would be written differently is refused, so one visit has one form. What a newer
//! program wrote is not guessed at: [`Error::Newer`] says so, and the bytes stay as they are.

mod amendment;
mod body;
mod certificate;
mod change;
mod codec;
mod error;
mod hub_role;
mod names;
mod observation;
mod person;
mod proposal;
mod receipt;
mod review;
mod revocation;
mod row;
mod sensors;
mod visit;

pub use amendment::{AMENDMENT, AMENDMENT_VERSION, Amended, Amendment};
pub use certificate::{CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Role};
pub use change::{CHANGE, CHANGE_VERSION, Change, ChangeMade, Import, PersonChange, RowsChanged, Table};
pub use error::Error;
pub use hub_role::HubRole;
pub use names::{Epoch, FileHash, PhotoHash, SpkiHash};
pub use observation::{OBSERVATION, OBSERVATION_VERSION, Observation, Observed, PHOTO_BYTES, Photo, Reading};
pub use person::{Confirmed, PersonId, Technician};
pub use proposal::{PROPOSAL, PROPOSAL_VERSION, Proposal, Proposed, UnitFitted};
pub use receipt::{Grade, HeldRun, RECEIPT, RECEIPT_PHOTOS, RECEIPT_RUNS, RECEIPT_VERSION, Receipt};
pub use review::{Decision, REVIEW, REVIEW_VERSION, Review};
pub use revocation::{LastTrusted, REVOCATION, REVOCATION_VERSION, Revocation};
pub use row::RegisterRow;
pub use sensors::SensorTable;
pub use visit::{VISIT, VISIT_VERSION, Visit};
