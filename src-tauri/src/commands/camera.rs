//! The camera, where something stands in for it.

use field::view::{CameraView, Message, RecordedFrame};
use tauri::State;

use crate::stand_in::StandIn;

#[tauri::command]
pub(crate) async fn camera(camera: State<'_, StandIn>) -> Result<CameraView, Message> {
    Ok(CameraView { source: camera.source(), side: field::FRAME_SIDE })
}

#[tauri::command]
pub(crate) async fn recorded_frame(
    camera: State<'_, StandIn>,
    at: u32,
) -> Result<Option<RecordedFrame>, Message> {
    match &*camera {
        StandIn::Recorded(frames) => Ok(frames.at(at)),
        StandIn::Device | StandIn::Refused => Ok(None),
    }
}
