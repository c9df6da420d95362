//! What a hub's storage does, by subject: one trait each, and [`HubStore`] for all of them together.
//!
//! Every call is one durable transaction: what it returned `Ok` for is committed and synced. Every call may be repeated.

mod access;
mod dump;
mod follows;
mod jobs;
mod ledger;
mod logs;
mod meta;
mod people;
mod photos;
mod register;
mod visits;
mod whole;

pub use access::{Access, Enrolment, Purpose, Token};
pub use dump::{Dump, Item};
pub use follows::{Changed, Follows, Putting};
pub use jobs::{Found, Job, Jobs, Tally, WorkedOut};
pub use ledger::{
    Batch, Filter, Fork, Ingested, Ledger, Limit, NewLog, News, Outcome, PARKED_BESIDE, ParkingLimits,
    Refusal, StoredEntry,
};
pub use logs::{LogRow, Logs, ParkedLog, Standing};
pub use meta::{Counted, Identity, Meta};
pub use people::{Device, HubPerson, People};
pub use photos::{Citation, Cited, PhotoRow, Photos};
pub use register::{Change, Put, Register, Row, Rows};
pub use visits::{VisitLine, VisitRow, Visits, VisitsAsked};
pub use whole::HubStore;
