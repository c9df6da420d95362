//! What the phone's data survives: a power cut at any write, full storage, damage, a killed process.
//!
//! One story of deeds is played on the store in all of them, beside a model in plain Rust that says what must
//! be there after each deed. Whatever happens during deed n, afterwards the store must hold exactly what it
//! held before n or exactly what it holds after n; and after n, if the call had returned.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test: a panic is the message, and a child process talks over its output"
)]

mod damage;
mod full;
mod kill;
mod lost_sync;
mod people;
mod photos;
mod power;
mod story;
mod taken_over;
mod truth;
