//! The phone shell: Tauri commands around the field core, and the app's life.
//!
//! Nothing is decided here. A command takes its arguments apart, calls one method of [`field::Phone`] off the
//! main thread, and hands back what it gave or the message that its error makes. No picture bytes cross the
//! border as such: files come in small pieces.

mod app;
mod commands;
mod places;
mod shared;
mod trace;

pub use app::run;
