//! The first screen and the register.

use field::view::{HomeView, Message, RegisterReport};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn home(phone: State<'_, OpenPhone>) -> Result<HomeView, Message> {
    phone.run(field::Phone::home).await
}

#[tauri::command]
pub(crate) async fn set_technician(phone: State<'_, OpenPhone>, name: String) -> Result<HomeView, Message> {
    phone.run(move |phone| phone.set_technician(&name)).await
}

#[tauri::command]
pub(crate) async fn register_load(
    phone: State<'_, OpenPhone>,
    upload: String,
) -> Result<RegisterReport, Message> {
    phone.run(move |phone| phone.register_load(&upload)).await
}
