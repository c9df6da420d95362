//! The PIN of whoever works with the phone.

use field::view::{Message, PinView};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn pin_view(phone: State<'_, OpenPhone>) -> Result<PinView, Message> {
    phone.run(field::Phone::pin_view).await
}

#[tauri::command]
pub(crate) async fn pin_set(
    phone: State<'_, OpenPhone>,
    pin: String,
    again: String,
) -> Result<PinView, Message> {
    phone.run(move |phone| phone.pin_set(&pin, &again)).await
}

#[tauri::command]
pub(crate) async fn pin_change(
    phone: State<'_, OpenPhone>,
    old: String,
    pin: String,
    again: String,
) -> Result<PinView, Message> {
    phone.run(move |phone| phone.pin_change(&old, &pin, &again)).await
}

#[tauri::command]
pub(crate) async fn pin_remove(phone: State<'_, OpenPhone>, old: String) -> Result<PinView, Message> {
    phone.run(move |phone| phone.pin_remove(&old)).await
}
