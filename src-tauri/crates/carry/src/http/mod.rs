//! The hub over HTTPS: one connection to exactly the keys that the organisation certified, and few bytes.

mod client;
mod enrol;
mod exchange;
mod photos;
mod pins;

pub use client::{Address, Answer, Client, Method, Request};
pub use enrol::{Asking, Certified, Chain, EnrolError, ask, enrolled, meet};
pub use pins::{KeyHash, Pins, Shown};
