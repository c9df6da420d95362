//! The hub's doors: HTTP over TLS. Handlers take apart, call and put together; what they decide is elsewhere.
//!
//! `openapi.json` beside this crate describes every route; a test compares it.

mod allowed;
mod app;
mod asked_names;
mod changes;
mod counts;
mod decisions;
mod described;
mod enrolling;
mod exchanging;
mod findings;
mod forks;
mod gate;
mod operating;
mod pages;
mod people;
mod phones;
mod photos;
mod problem;
mod proposing;
mod records;
mod router;
mod routes;
mod rows;
mod signing_in;
mod somebody;
mod trusting;

pub use app::{App, Limits};
pub use counts::Counts;
pub use described::openapi;
pub use problem::{Problem, ProblemBody};
pub use router::router;
