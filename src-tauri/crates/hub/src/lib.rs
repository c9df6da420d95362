//! The hub: where the records of all phones come home, and where the register lives.
//!
//! The binary `headmark-hub` is a thin shell over this library, so that tests can call what it does without a process
//! around it.

pub mod api;
pub mod backing;
pub mod branch;
pub mod chance;
pub mod changes;
pub mod changing;
pub mod clock;
pub mod commands;
pub mod counting;
pub mod deciding;
mod doorway;
pub mod enrol;
mod error;
pub mod exchange;
pub mod folder;
pub mod founding;
pub mod home;
mod household;
pub mod keys;
pub mod lost;
pub mod names;
pub mod organising;
pub mod people;
pub mod phones;
pub mod proposals;
pub mod proposed;
pub mod proving;
pub mod recompute;
pub mod register;
pub mod restoring;
pub mod saying;
pub mod trusted;

pub mod serving;
pub mod settling;
pub mod storage;

pub use error::Error;
pub use storage::Store;
