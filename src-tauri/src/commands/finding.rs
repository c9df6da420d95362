//! Finding an instrument.

use field::view::{CodeOutcome, Hit, InstrumentView, Message};
use tauri::State;

use crate::shared::Shared;

#[tauri::command]
pub(crate) async fn find_photo(shared: State<'_, Shared>, upload: String) -> Result<CodeOutcome, Message> {
    shared.run(move |phone| phone.find_photo(&upload)).await
}

#[tauri::command]
pub(crate) async fn find_code(shared: State<'_, Shared>, text: String) -> Result<CodeOutcome, Message> {
    shared.run(move |phone| phone.find_code(&text)).await
}

#[tauri::command]
pub(crate) async fn search(shared: State<'_, Shared>, text: String) -> Result<Vec<Hit>, Message> {
    shared.run(move |phone| phone.search(&text)).await
}

#[tauri::command]
pub(crate) async fn instrument(shared: State<'_, Shared>, tag: String) -> Result<InstrumentView, Message> {
    shared.run(move |phone| phone.instrument(&tag)).await
}
