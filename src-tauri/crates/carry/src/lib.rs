//! Carriers: joins an exchange, which is pure, with the network.
//!
//! - [`once()`] runs one exchange over a [`Link`]; [`Pace`] remembers between exchanges how much goes at a time and how
//!   long to wait.
//! - [`photos`] is the lane of photos, after the records and never before them.
//! - [`http`] is the link over HTTPS, to exactly the keys that the organisation certified.
//! - [`faulty`] is a link that breaks on purpose, for tests of every kind of break.
//!
//! What this crate does not do: keep anything, decide what is sent (the session does), or know a clock. Everything here
//! blocks, on a thread that whoever calls provides.

mod cancel;
mod error;
pub mod faulty;
pub mod http;
mod link;
mod once;
mod pace;
pub mod photos;
mod progress;

pub use cancel::Cancel;
pub use error::Error;
pub use link::{Link, LinkError};
pub use once::{MOST_ANSWER, once};
pub use pace::{LEAST_ROUND, Pace};
pub use progress::{Around, Progress, Stage};
