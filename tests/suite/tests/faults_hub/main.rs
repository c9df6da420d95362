//! What a hub's file survives: the power cut at any write, a process that is killed at any write, a sync that fails, a
//! storage that is full.
//!
//! As with the phone's (`faults_store`): a story of deeds is played on the hub's SQLite file and on the store in memory
//! beside it, which says what must be there after each deed. Whatever happens during deed n, afterwards the file must
//! hold exactly what it held before n or exactly what it holds after n; and after n, if the call had returned.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test: a panic is the message"
)]

mod machine;
mod power;
mod story;
mod trouble;
mod truth;
#[path = "../../../../src-tauri/crates/hubstore/tests/contract/writer.rs"]
#[allow(dead_code, reason = "the story asks for a part of it")]
mod writer;
