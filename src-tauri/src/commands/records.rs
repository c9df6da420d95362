//! Signed records.

use field::view::{Message, RecordView};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn record(phone: State<'_, OpenPhone>, id: String) -> Result<RecordView, Message> {
    phone.run(move |phone| phone.record(&id)).await
}

#[tauri::command]
pub(crate) async fn record_export(phone: State<'_, OpenPhone>, id: String) -> Result<String, Message> {
    phone.run(move |phone| phone.record_export(&id)).await
}
