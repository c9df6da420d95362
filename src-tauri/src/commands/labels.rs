//! Labels to print.

use field::view::{LabelFile, LabelOrder, LabelPreview, LabelsView, Message};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn labels(phone: State<'_, OpenPhone>) -> Result<LabelsView, Message> {
    phone.run(field::Phone::labels).await
}

#[tauri::command]
pub(crate) async fn labels_preview(
    phone: State<'_, OpenPhone>,
    order: LabelOrder,
) -> Result<LabelPreview, Message> {
    phone.run(move |phone| phone.labels_preview(&order)).await
}

#[tauri::command]
pub(crate) async fn labels_export(
    phone: State<'_, OpenPhone>,
    order: LabelOrder,
    file: LabelFile,
) -> Result<String, Message> {
    phone.run(move |phone| phone.labels_export(&order, file)).await
}
