//! Signed records.

use field::view::{Message, RecordView};
use tauri::State;

use crate::shared::Shared;

#[tauri::command]
pub(crate) async fn record(shared: State<'_, Shared>, id: String) -> Result<RecordView, Message> {
    shared.run(move |phone| phone.record(&id)).await
}

#[tauri::command]
pub(crate) async fn record_export(shared: State<'_, Shared>, id: String) -> Result<String, Message> {
    shared.run(move |phone| phone.record_export(&id)).await
}
