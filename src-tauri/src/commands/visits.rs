//! The visit.

use field::Choice;
use field::view::{Change, HomeView, Message, RecordView, VisitView};
use tauri::State;

use crate::shared::Shared;

#[tauri::command]
pub(crate) async fn visit_begin(
    shared: State<'_, Shared>,
    tag: String,
    found_by: Choice,
    code: String,
) -> Result<VisitView, Message> {
    shared.run(move |phone| phone.visit_begin(&tag, found_by, &code)).await
}

#[tauri::command]
pub(crate) async fn visit_open(shared: State<'_, Shared>, id: String) -> Result<VisitView, Message> {
    shared.run(move |phone| phone.visit_open(&id)).await
}

#[tauri::command]
pub(crate) async fn visit_change(
    shared: State<'_, Shared>,
    id: String,
    change: Change,
) -> Result<VisitView, Message> {
    shared.run(move |phone| phone.visit_change(&id, &change)).await
}

#[tauri::command]
pub(crate) async fn visit_discard(shared: State<'_, Shared>, id: String) -> Result<HomeView, Message> {
    shared.run(move |phone| phone.visit_discard(&id)).await
}

#[tauri::command]
pub(crate) async fn visit_sign(shared: State<'_, Shared>, id: String) -> Result<RecordView, Message> {
    shared.run(move |phone| phone.visit_sign(&id)).await
}
