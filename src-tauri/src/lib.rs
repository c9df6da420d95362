//! The phone shell.

/// Runs the app.
///
/// # Errors
///
/// Returns what Tauri could not start.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let _ = tauri::Builder::default().run(tauri::generate_context!());
}
