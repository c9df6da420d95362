//! The phone's use cases: what a person does with Headmark, from loading the register to signing a visit.
//!
//! [`Phone`] is the whole of it. Each of its methods is one thing a person does and blocks until that is done;
//! a method that changes something returns only after the store has committed it, so what comes back may be
//! shown as saved. Time, randomness and the key store come through the ports; [`host`] holds the ones that
//! an ordinary computer gives.
//!
//! What this crate does not do: judge a measurement (`domain` does), know SQL (`store` does), or know what a
//! webview is (the shell does).

mod bundle;
mod counted;
mod decided;
mod draft_text;
mod enrol;
mod error;
mod export;
#[cfg(test)]
mod fake;
mod finding;
mod forks;
mod home;
pub mod host;
mod identity;
mod instruments;
mod labels;
mod linking;
mod lists;
mod message;
mod near;
mod offering;
mod past;
mod pending;
mod people;
mod phone;
mod photos;
mod pin;
mod plan;
mod ports;
mod records;
mod register;
mod salvaged;
mod scanning;
mod search;
mod sending;
pub mod show;
mod signing;
mod tag;
mod uploads;
pub mod view;
mod visits;
mod when;

/// What found the instrument, as the shell passes it on.
pub use domain::visit::Choice;
pub use enrol::{Awaited, Invited, Met};
pub use error::Error;
pub use phone::{Phone, Ports};
pub use ports::{Clock, Entropy, Kept, Keys, KeysError, NoEntropy, Now, SinceBoot};
pub use sending::{Stage, Under, Way};
/// How the data file is opened; the shell names no store.
pub use store::Opening;
/// How large the frames are that the camera's pages send.
pub use tagcode::FRAME_SIDE;
pub use uploads::{MOST_BYTES, MOST_PIECE};
