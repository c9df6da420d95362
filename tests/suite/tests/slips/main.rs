//! Do slips come out, and do honest visits stay unsuspected?
//!
//! Towers, technicians and slips are made by chance, from distributions that stand beside each number; the simulator
//! knows water, air and gravity by other formulas than the product and nothing of its equations. Every visit is written
//! down as texts and answered through `domain::visit::assess`, as on a phone. What is judged are visits in which
//! something independent of the suspected number says what it should have been, and in which the slip is more than three
//! times the expanded uncertainty of that comparison; how many those are is printed.

// A panic in a test is its message; the rates are worth seeing when they pass, too.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss
)]

mod honest;
mod mounts;
mod slipped;
mod slipped_beside;
mod story;
mod tower;
mod varied;
mod write;
