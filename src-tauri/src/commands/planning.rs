//! Planning an instrument before the visit.

use field::view::{Message, PlanView};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn plan(phone: State<'_, OpenPhone>, tag: String) -> Result<PlanView, Message> {
    phone.run(move |phone| phone.plan(&tag)).await
}
