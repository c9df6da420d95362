//! What the phone keeps, in one SQLite file.
//!
//! The file holds signed entries (the truth): the phone's own log and what it carries of others', with their receipts;
//! the drafts of visits under way; the register of instruments; what is known of photos, which lie beside it as files; and a
//! few settings. `migrations/` describes every table, column by column.
//!
//! What this crate promises:
//!
//! - A call that returns `Ok` after changing something has committed it and synced it to the storage
//!   (write-ahead log, `synchronous=FULL`). Only then may a screen say "saved".
//! - An entry of the log is never changed and never deleted, by no call and by no SQL.
//! - Signing a visit is one transaction: the entry is in and the draft is out, or neither.
//! - No file of a person is ever deleted. One that is damaged, or is no data file of ours, is renamed and its
//!   new name is said; one written by a newer version is left alone.
//! - What is read is what was written, or an error: every row carries a seal over its columns.
//! - Storage that is full gives [`Error::Full`], loses nothing, and works again when there is space.
//!
//! What it cannot do: tell a write-ahead log that the storage itself has spoilt from one that a power cut
//! left short. SQLite reads such a log up to the spoilt place. Closing the file ([`Store::suspend`]) empties
//! that log, so the window is the time since the last suspend.
//!
//! One connection serves all threads, one after the other. Calls block; the shell calls them off its main
//! thread. The file is locked against other processes while it is open, which is also what lets the
//! write-ahead log do without shared memory.

mod aside;
mod backfill;
mod carried;
mod chain;
mod drafts;
mod error;
mod feed;
mod identity;
mod keys;
mod known;
mod lacking;
mod ledger;
mod log;
mod marks;
mod opening;
mod parked;
mod people;
mod photos;
mod place;
mod proposals;
mod receipts;
mod register;
mod runs;
mod salvage;
mod schema;
mod seal;
mod sensors;
mod settings;
mod share;
mod sign;
mod signed;
mod sound;
mod store;
mod taken;
mod unread;
mod views;
mod whereabouts;

pub use drafts::Draft;
pub use error::Error;
pub use feed::Applied;
pub use identity::Identity;
pub use known::HubLog;
pub use ledger::Brought;
pub use log::{Appended, Arrival, Entry, NewEntry, Tip};
pub use marks::{Allowed, Hub};
pub use opening::{Flush, Opening};
pub use parked::{MOST_PARKED_BYTES, MOST_PARKED_ENTRIES};
pub use photos::{CHUNK, Disk, Freed, PhotoState, Shelf, Space, Tidied, photo_hash};
pub use place::{Claimed, Kind, LogId, PayloadHash, Place, Seq};
pub use proposals::OwnProposal;
pub use receipts::{Counts, Stands, VisitState, Waiting};
pub use register::{InstrumentRow, Listed, RegisterName, TagKey};
pub use salvage::Salvaged;
pub use sensors::SENSOR_RANGES;
pub use signed::SignedVisit;
pub use store::Store;
pub use taken::Taken;
pub use unread::UnreadRows;
pub use whereabouts::Whereabouts;
