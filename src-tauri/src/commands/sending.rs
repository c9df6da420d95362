//! Sending, enrolling, bundles.

use field::view::{BundleMade, BundleReport, EnrolView, Message, Network, SendView, StatusView};
use tauri::State;

use crate::carrier::{Carrier, enrol as enrol_with};
use crate::open_phone::OpenPhone;

#[tauri::command]
pub(crate) async fn exchange_now(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
) -> Result<SendView, Message> {
    phone.run(|phone| phone.pause_sending(false)).await?;
    carrier.go();
    exchange_view(phone, carrier).await
}

#[tauri::command]
pub(crate) async fn exchange_cancel(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
) -> Result<SendView, Message> {
    carrier.stop();
    exchange_view(phone, carrier).await
}

#[tauri::command]
pub(crate) async fn exchange_view(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
) -> Result<SendView, Message> {
    let (under, trouble) = carrier.now();
    phone.run(move |phone| phone.sending_view(&under, trouble)).await
}

#[tauri::command]
pub(crate) async fn exchange_status(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
) -> Result<StatusView, Message> {
    let (under, _) = carrier.now();
    phone.run(move |phone| phone.sending_status(&under)).await
}

#[tauri::command]
pub(crate) async fn exchange_allow(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
    photos_metered: bool,
    paused: bool,
) -> Result<SendView, Message> {
    phone
        .run(move |phone| {
            phone.allow_metered(photos_metered)?;
            phone.pause_sending(paused)
        })
        .await?;
    if paused {
        carrier.stop();
    } else {
        carrier.go();
    }
    exchange_view(phone, carrier).await
}

#[tauri::command]
pub(crate) async fn exchange_network(carrier: State<'_, Carrier>, network: Network) -> Result<(), Message> {
    carrier.network(network);
    Ok(())
}

#[tauri::command]
pub(crate) async fn enrol(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
    text: String,
) -> Result<EnrolView, Message> {
    let runtime = carrier.runtime();
    let view = phone.run(move |phone| Ok(enrol_with(phone, &text, &runtime))).await??;
    carrier.go();
    Ok(view)
}

#[tauri::command]
pub(crate) async fn enrol_view(phone: State<'_, OpenPhone>) -> Result<EnrolView, Message> {
    phone.run(field::Phone::enrol_view).await
}

#[tauri::command]
pub(crate) async fn enrol_give_up(phone: State<'_, OpenPhone>) -> Result<EnrolView, Message> {
    phone.run(field::Phone::enrol_give_up).await
}

#[tauri::command]
pub(crate) async fn photos_free(phone: State<'_, OpenPhone>) -> Result<String, Message> {
    phone.run(field::Phone::photos_free).await
}

#[tauri::command]
pub(crate) async fn bundle_make(phone: State<'_, OpenPhone>) -> Result<BundleMade, Message> {
    phone.run(field::Phone::bundle_make).await
}

#[tauri::command]
pub(crate) async fn bundle_take(
    phone: State<'_, OpenPhone>,
    carrier: State<'_, Carrier>,
    upload: String,
) -> Result<BundleReport, Message> {
    let report = phone.run(move |phone| phone.bundle_take(&upload)).await?;
    carrier.signed();
    Ok(report)
}
