//! A camera that never was: photographs of labels, made from numbers.
//!
//! A [`Scene`] says how a label hangs, how it is lit and what the lens and the file do to it; [`Scene::shot`] is the
//! picture, the same for the same numbers. So a test can hold a code at any angle, in any light, at any size, without a
//! picture of somebody else's.

#![allow(clippy::expect_used, clippy::indexing_slicing)] // For tests: a panic there is the message.

mod chance;
mod file;
mod lens;
mod placing;
mod scene;
mod wear;

pub use chance::Chance;
pub use file::{jpeg, jpeg_turned, png};
pub use scene::{Light, Scene};
pub use wear::worn;
