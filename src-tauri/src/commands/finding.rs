//! Finding an instrument.

use field::view::{CodeOutcome, Hit, InstrumentView, LinkView, ListsView, Message, NearSite, NearView};
use tauri::State;

use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn find_photo(phone: State<'_, OpenPhone>, upload: String) -> Result<CodeOutcome, Message> {
    phone.run(move |phone| phone.find_photo(&upload)).await
}

#[tauri::command]
pub(crate) async fn find_longer(phone: State<'_, OpenPhone>) -> Result<CodeOutcome, Message> {
    phone.run(field::Phone::find_longer).await
}

/// One frame of the camera: small, gray, and as text, because raw bytes would go as a list of numbers on some phones.
#[tauri::command]
pub(crate) async fn find_frame(
    phone: State<'_, OpenPhone>,
    width: u32,
    height: u32,
    base64: String,
) -> Result<Option<CodeOutcome>, Message> {
    phone.run(move |phone| phone.find_frame(width, height, &base64)).await
}

#[tauri::command]
pub(crate) async fn search(phone: State<'_, OpenPhone>, text: String) -> Result<Vec<Hit>, Message> {
    phone.run(move |phone| phone.search(&text)).await
}

#[tauri::command]
pub(crate) async fn instrument(phone: State<'_, OpenPhone>, tag: String) -> Result<InstrumentView, Message> {
    phone.run(move |phone| phone.instrument(&tag)).await
}

#[tauri::command]
pub(crate) async fn link_ask(
    phone: State<'_, OpenPhone>,
    tag: String,
    code: String,
) -> Result<LinkView, Message> {
    phone.run(move |phone| phone.link_ask(&tag, &code)).await
}

#[tauri::command]
pub(crate) async fn link(phone: State<'_, OpenPhone>, tag: String, code: String) -> Result<Message, Message> {
    phone.run(move |phone| phone.link(&tag, &code)).await
}

#[tauri::command]
pub(crate) async fn lists(phone: State<'_, OpenPhone>) -> Result<ListsView, Message> {
    phone.run(field::Phone::lists).await
}

/// Latitude and longitude in degrees, where the page was given them, and how well they are known in metres.
#[tauri::command]
pub(crate) async fn near(
    phone: State<'_, OpenPhone>,
    position: Option<[f64; 2]>,
    accuracy: f64,
) -> Result<NearView, Message> {
    phone.run(move |phone| phone.near(position, accuracy)).await
}

#[tauri::command]
pub(crate) async fn near_site(phone: State<'_, OpenPhone>, site: String) -> Result<NearSite, Message> {
    phone.run(move |phone| phone.near_site(&site)).await
}
