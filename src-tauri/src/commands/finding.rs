//! Finding an instrument.

use field::view::{CodeOutcome, Hit, InstrumentView, Message};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn find_photo(phone: State<'_, OpenPhone>, upload: String) -> Result<CodeOutcome, Message> {
    phone.run(move |phone| phone.find_photo(&upload)).await
}

#[tauri::command]
pub(crate) async fn find_longer(phone: State<'_, OpenPhone>) -> Result<CodeOutcome, Message> {
    phone.run(field::Phone::find_longer).await
}

/// One frame of the camera: small, gray, and as text, because raw bytes would go as a list of numbers on some phones.
#[tauri::command]
pub(crate) async fn find_frame(
    phone: State<'_, OpenPhone>,
    width: u32,
    height: u32,
    base64: String,
) -> Result<Option<CodeOutcome>, Message> {
    phone.run(move |phone| phone.find_frame(width, height, &base64)).await
}

#[tauri::command]
pub(crate) async fn find_code(phone: State<'_, OpenPhone>, text: String) -> Result<CodeOutcome, Message> {
    phone.run(move |phone| phone.find_code(&text)).await
}

#[tauri::command]
pub(crate) async fn search(phone: State<'_, OpenPhone>, text: String) -> Result<Vec<Hit>, Message> {
    phone.run(move |phone| phone.search(&text)).await
}

#[tauri::command]
pub(crate) async fn instrument(phone: State<'_, OpenPhone>, tag: String) -> Result<InstrumentView, Message> {
    phone.run(move |phone| phone.instrument(&tag)).await
}
