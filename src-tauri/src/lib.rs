//! The phone shell: Tauri commands around the field core, and the app's life.
//!
//! Nothing is decided here. A command takes its arguments apart, calls one method of [`field::Phone`] off the
//! main thread, and hands back what it gave or the message that its error makes. No picture bytes cross the
//! border as such: files come in small pieces.

mod app;
mod carrier;
mod commands;
#[cfg(target_os = "android")]
mod java_machine;
mod key_store;
mod open_phone;
mod places;
mod stand_in;
mod trace;

/// Runs the app until it is closed: the entry of phones, and what the desktop's `main` calls.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    app::run();
}
