//! A camera that never was: photographs of labels, made from numbers.
//!
//! A [`Scene`] says how a label hangs, how it is lit and what the lens and the file do to it; [`Scene::shot`] is the
//! picture, the same for the same numbers. So a test can hold a code at any angle, in any light, at any size, without a
//! picture of somebody else's. [`Kind`] names the troubles that a label in the field meets, each at several strengths;
//! [`Bare`] makes pictures without a code.
//!
//! A crate of its own, so that what only measures the reader need not build the whole app first: the program `readers`
//! writes these sets to a folder and reads pictures for the comparison with readers that are not ours.

#![allow(clippy::expect_used, clippy::indexing_slicing)] // For tests: a panic there is the message.

mod bare;
mod chance;
mod file;
mod kinds;
mod lens;
mod placing;
mod scene;
mod wear;

pub use bare::Bare;
pub use chance::Chance;
pub use file::{jpeg, jpeg_turned, png};
pub use kinds::{Kind, Shot};
pub use scene::{Light, Scene};
pub use wear::{hidden, worn};
