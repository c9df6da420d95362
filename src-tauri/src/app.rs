//! The app from start to end.

use tauri::{Manager, RunEvent};

use crate::commands::{camera, finding, home, labels, planning, records, uploads, visits};
use crate::open_phone::OpenPhone;
use crate::places::Places;
use crate::stand_in::StandIn;
use crate::trace;

/// Runs the app until it is closed.
///
/// What keeps the data from being opened is told by the first screen, through the command it calls; only
/// what keeps the window from being shown ends up in the log alone.
pub(crate) fn run() {
    trace::start();
    let app = tauri::Builder::default()
        .setup(|app| {
            let places = Places::of(app.handle())?;
            app.manage(StandIn::of(places.frames.as_deref()));
            app.manage(OpenPhone::new(places));
            Ok(())
        })
        .invoke_handler(tauri::generate_handler![
            home::home,
            home::set_technician,
            home::register_load,
            uploads::upload_begin,
            uploads::upload_piece,
            uploads::upload_drop,
            camera::camera,
            camera::recorded_frame,
            finding::find_photo,
            finding::find_longer,
            finding::find_frame,
            finding::find_code,
            finding::search,
            finding::instrument,
            finding::link_ask,
            finding::link,
            finding::lists,
            finding::near,
            planning::plan,
            visits::visit_begin,
            visits::visit_open,
            visits::visit_change,
            visits::visit_discard,
            visits::visit_sign,
            visits::target,
            records::record,
            records::record_export,
            labels::labels,
            labels::labels_preview,
            labels::labels_export,
        ])
        .build(tauri::generate_context!());
    match app {
        Ok(app) => app.run(|handle, event| live(handle, &event)),
        Err(error) => tracing::error!(%error, "the app could not start"),
    }
}

/// Closes the data file when the app goes to the background, where it may be ended without a word, and when it
/// is closed. The next command opens it again by itself, so nothing is done on the way back.
fn live(handle: &tauri::AppHandle, event: &RunEvent) {
    let closing = match event {
        RunEvent::Exit => true,
        #[cfg(mobile)]
        RunEvent::WindowEvent { event: tauri::WindowEvent::Suspended, .. } => true,
        _ => false,
    };
    if closing && let Some(phone) = handle.try_state::<OpenPhone>() {
        phone.suspend();
    }
}
