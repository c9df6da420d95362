//! The first screen and the register.

use field::view::{HomeView, Message, RegisterReport};
use tauri::State;

use crate::shared::Shared;

#[tauri::command]
pub(crate) async fn home(shared: State<'_, Shared>) -> Result<HomeView, Message> {
    shared.run(|phone| phone.home()).await
}

#[tauri::command]
pub(crate) async fn set_technician(shared: State<'_, Shared>, name: String) -> Result<HomeView, Message> {
    shared.run(move |phone| phone.set_technician(&name)).await
}

#[tauri::command]
pub(crate) async fn register_load(
    shared: State<'_, Shared>,
    upload: String,
) -> Result<RegisterReport, Message> {
    shared.run(move |phone| phone.register_load(&upload)).await
}
