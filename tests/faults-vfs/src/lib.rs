//! A storage that can lose power, fill up and fail, for SQLite to stand on in tests.
//!
//! [`Mounted`] is a file system in memory that SQLite opens by name. It notes every write, truncation, sync,
//! creation and removal as an [`Op`]. From any prefix of those, [`cut::Storage::survivors`] works out one of the many
//! states that a real storage could be in after the power went at that moment: what was synced is there, of
//! the rest some is there, some is not, and some is there in part or as rubbish.
//!
//! What is modelled, and with what reason:
//!
//! - A write that was not synced may be lost, kept, or torn at any 512-byte sector; a torn sector holds what
//!   it held, what was to be written, or noise. Bytes outside the written range never change: SQLite counts on
//!   that by default on the phones' systems ("powersafe overwrite").
//! - Unsynced writes reach the storage in any order, so any subset of them can survive.
//! - A file that was made or removed is so for good once the folder was synced. SQLite's own Unix file system
//!   syncs the folder with the first sync of a new log or journal; so does this one.
//! - A write that meets full storage leaves its first half, as `write(2)` may.
//!
//! - Several connections of one process share the index of the write-ahead log in memory and lock each other out as
//!   on a real system. A hub does that; a phone opens its file in exclusive locking mode, in which SQLite keeps that
//!   index to itself. So the tests of both run on the settings that they run on.
//!
//! Not modelled: a storage that acknowledges a sync and lies; damage to what was synced (another test does
//! that, to the file itself); several processes.
//!
//! Why this crate has `unsafe` code: SQLite takes a file system as a table of C function pointers, and
//! rusqlite has no safe form of it. All of it is in `glue.rs`.

pub mod chance;
pub mod cut;
mod disk;
#[allow(unsafe_code, reason = "SQLite takes a file system as C functions over raw pointers")]
mod glue;
mod plain;
pub mod power;
mod together;

pub use disk::{Disk, Files, Op, Trouble};
pub use glue::Mounted;
pub use plain::Plain;
