//! Files in pieces.

use field::view::Message;
use tauri::State;

use crate::open_phone::OpenPhone;

/// A page's number may be larger than any file taken here; it then stays too large, and is refused as such.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
#[tauri::command]
pub(crate) async fn upload_begin(
    phone: State<'_, OpenPhone>,
    name: String,
    size: f64,
) -> Result<String, Message> {
    // Only the ending, which says what kind of file is tried: a name may hold a person's.
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    tracing::info!(ending, size, "a file comes");
    phone.run(move |phone| phone.upload_begin(size as u32)).await
}

#[tauri::command]
pub(crate) async fn upload_piece(
    phone: State<'_, OpenPhone>,
    upload: String,
    at: u32,
    base64: String,
) -> Result<(), Message> {
    phone.run(move |phone| phone.upload_piece(&upload, at, &base64)).await
}

#[tauri::command]
pub(crate) async fn upload_drop(phone: State<'_, OpenPhone>, upload: String) -> Result<(), Message> {
    phone
        .run(move |phone| {
            phone.upload_drop(&upload);
            Ok(())
        })
        .await
}
