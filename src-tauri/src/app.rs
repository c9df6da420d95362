//! The app from start to end.

use tauri::{Emitter, Manager, RunEvent};

use crate::carrier::Carrier;
use crate::commands::{camera, finding, home, labels, pin, planning, records, sending, uploads, visits};
use crate::key_store;
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
            let keys = key_store::of(app.handle(), &places);
            let phone = OpenPhone::new(places, keys);
            app.manage(start_carrier(app.handle(), phone.clone())?);
            app.manage(phone);
            Ok(())
        })
        .invoke_handler(tauri::generate_handler![
            home::home,
            home::set_technician,
            home::register_load,
            pin::pin_view,
            pin::pin_set,
            pin::pin_change,
            pin::pin_remove,
            uploads::upload_begin,
            uploads::upload_piece,
            uploads::upload_drop,
            camera::camera,
            camera::recorded_frame,
            finding::find_photo,
            finding::find_longer,
            finding::find_frame,
            finding::search,
            finding::instrument,
            finding::link_ask,
            finding::link,
            finding::lists,
            finding::near,
            finding::near_site,
            planning::plan,
            visits::visit_begin,
            visits::visit_open,
            visits::visit_change,
            visits::visit_discard,
            visits::visit_sign,
            visits::photo_add,
            visits::target,
            records::record,
            records::record_export,
            sending::exchange_now,
            sending::exchange_cancel,
            sending::exchange_view,
            sending::exchange_status,
            sending::exchange_allow,
            sending::exchange_network,
            sending::enrol,
            sending::enrol_view,
            sending::enrol_give_up,
            sending::photos_free,
            sending::bundle_make,
            sending::bundle_take,
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
/// is closed. The next command opens it again by itself. What is being sent stops before, and goes on when the app is back.
fn live(handle: &tauri::AppHandle, event: &RunEvent) {
    let closing = match event {
        RunEvent::Exit => true,
        #[cfg(mobile)]
        RunEvent::WindowEvent { event: tauri::WindowEvent::Suspended, .. } => true,
        _ => false,
    };
    if closing && let Some(carrier) = handle.try_state::<Carrier>() {
        carrier.away();
    }
    #[cfg(mobile)]
    if matches!(event, RunEvent::Resumed)
        && let Some(carrier) = handle.try_state::<Carrier>()
    {
        carrier.back();
    }
    if closing && let Some(phone) = handle.try_state::<OpenPhone>() {
        phone.suspend();
    }
}

/// Starts sending in the background. The pages are told that there is something new, and ask for it.
fn start_carrier(handle: &tauri::AppHandle, phone: OpenPhone) -> std::io::Result<Carrier> {
    let tauri::async_runtime::RuntimeHandle::Tokio(runtime) = tauri::async_runtime::handle();
    let own = handle.clone();
    Carrier::start(phone, runtime, move || {
        if let Err(error) = own.emit(NEWS, ()) {
            tracing::debug!(%error, "no page heard of it");
        }
    })
}

/// The event that says that what is sent, or waits, has changed.
const NEWS: &str = "exchange";
