//! What people change at the hub itself: who is written down, the tables that come in from files, which phones are trusted.
//! Each change is an entry of the hub's log and stands with it in one step: a cut leaves both or neither. What changes
//! nothing is no entry.

mod entry;
mod import;
mod people;

pub(crate) use entry::entry;
pub use import::{TakenIn, import};
pub use people::{PersonTo, can_be_called, change_person, write_down};
