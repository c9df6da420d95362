//! What the pages are looked at with: every screen as the real core gives it, on days that were made up.
//!
//! The pages' pictures, axe and the behaviour suite run over a stand-in for the core, and the stand-in shows these
//! views. `cargo run -p looks` writes them into `ui/look/views`; a test makes them again and compares both ways, so
//! that nobody looks at a screen that the core no longer shows.
//!
//! The days are told as [`kit`] tells them: what a person did, step by step. Nothing is judged here; a number in a
//! view is right because the tests of the core say so.

mod before;
mod decided;
mod lines;
mod linking;
mod mountings;
mod pin;
mod register;
mod scene;
mod screens;
mod sending;
mod still;
mod tower;

pub use screens::{FOLDER, files};
