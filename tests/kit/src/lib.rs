//! People and things for tests: a phone of one's own, the invented utility's register, a technician, and what
//! she does on a visit.
//!
//! A [`Story`] is a visit as the things a person does, step by step, with the numbers of that day. It is told once
//! and played twice: through the core by [`Core::play`], in a moment, to have a visit that stands where a test
//! needs it; and on the app's screen by the journeys.

mod act;
mod core;
mod fill;
mod hands;
mod office;
mod phone;
mod photo;
pub mod plant;
mod printed;
mod recording;
mod register;
mod stories;
mod story;

pub use act::{Act, answer};
/// Photographs of labels, made from numbers.
pub use camera;
pub use core::Core;
pub use hands::Hands;
pub use office::Office;
pub use phone::Phone;
pub use photo::photo;
pub use printed::{painted_over, printed, side_by_side};
pub use recording::{record_label, record_nothing, record_picture};
pub use register::{instrument, register};
pub use stories::{as_found, cleared_riser, dip, known_empty, vented};
pub use story::{Part, Story};
