//! The visit.

use field::Choice;
use field::view::{Change, Confirming, HomeView, Message, RecordView, TargetView, VisitView};
use tauri::State;

use crate::carrier::Carrier;
use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn visit_begin(
    phone: State<'_, OpenPhone>,
    tag: String,
    found_by: Choice,
    code: String,
) -> Result<VisitView, Message> {
    phone.run(move |phone| phone.visit_begin(&tag, found_by, &code)).await
}

#[tauri::command]
pub(crate) async fn visit_open(phone: State<'_, OpenPhone>, id: String) -> Result<VisitView, Message> {
    phone.run(move |phone| phone.visit_open(&id)).await
}

#[tauri::command]
pub(crate) async fn visit_change(
    phone: State<'_, OpenPhone>,
    id: String,
    change: Change,
) -> Result<VisitView, Message> {
    phone.run(move |phone| phone.visit_change(&id, &change)).await
}

#[tauri::command]
pub(crate) async fn target(phone: State<'_, OpenPhone>, id: String) -> Result<Option<TargetView>, Message> {
    phone.run(move |phone| phone.target(&id)).await
}

#[tauri::command]
pub(crate) async fn visit_discard(phone: State<'_, OpenPhone>, id: String) -> Result<HomeView, Message> {
    phone.run(move |phone| phone.visit_discard(&id)).await
}

#[tauri::command]
pub(crate) async fn visit_sign(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
    id: String,
    confirming: Confirming,
) -> Result<RecordView, Message> {
    let record = phone.run(move |phone| phone.visit_sign_confirmed(&id, &confirming)).await?;
    carrier.signed();
    Ok(record)
}

#[tauri::command]
pub(crate) async fn photo_add(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
    id: String,
    upload: String,
) -> Result<VisitView, Message> {
    let view = phone.run(move |phone| phone.photo_add(&id, &upload)).await?;
    carrier.signed();
    Ok(view)
}
