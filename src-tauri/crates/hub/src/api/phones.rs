//! The phones that are enrolled, and whether they were looked through since a restore.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use serde::Serialize;

use super::allowed::{Allowed, Looking, Running};
use super::enrolling::Made;
use super::somebody::{Names, Somebody};
use super::{App, Problem, ProblemBody};
use crate::names::{entry_name, hex};
use crate::phones::{Phone, phones};
use crate::restoring::{Restored, looked_through, restored};

/// A phone.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct PhoneLine {
    /// Its log, hexadecimal.
    log: String,
    /// What it is called.
    label: String,
    /// Whose it is.
    person: Option<Somebody>,
    /// The areas of the register that it gets; empty for all.
    areas: Vec<String>,
    /// The highest place of its log that is held; 0 where nothing is.
    upto: u64,
    /// The last place of its log that is trusted, where it was revoked; 0 where nothing of it is.
    revoked: Option<u64>,
}

/// That the hub was restored, and its phones were not looked through since.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct NotLookedThrough {
    /// Revocations that were made since then may be missing: when the hub said the last of what the backup holds, in
    /// milliseconds since 1970, by its clock.
    since: i64,
    /// What to do.
    text: &'static str,
}

/// The phones.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct AllPhones {
    /// None where the hub was not restored, or the phones were looked through since.
    restored: Option<NotLookedThrough>,
    /// By log.
    items: Vec<PhoneLine>,
}

/// Returns the phones that are enrolled, and what is to be looked through.
#[utoipa::path(
    get, path = "/phones", tag = "enrolment",
    responses((status = 200, body = AllPhones), (status = 401, body = ProblemBody))
)]
pub(super) async fn get_phones(
    State(app): State<App>,
    _: Allowed<Looking>,
) -> Result<Json<AllPhones>, Problem> {
    let names = Names::of(&app).await?;
    let items = phones(app.hub()).await?.into_iter().map(|phone| line(phone, &names)).collect();
    let restored = restored(&app.hub().store).await?.map(to_be_done);
    Ok(Json(AllPhones { restored, items }))
}

fn line(phone: Phone, names: &Names) -> PhoneLine {
    let Phone { device, upto, revoked } = phone;
    let person = device.person.map(|person| names.somebody(person));
    PhoneLine { log: hex(&device.log.0), label: device.label, person, areas: device.areas, upto, revoked }
}

fn to_be_done(restored: Restored) -> NotLookedThrough {
    let text = "The hub was restored; revocations since its backup may be missing. Look through the phones and revoke anew \
                which were revoked since, then say that they were looked through.";
    NotLookedThrough { since: restored.since, text }
}

/// Says that the phones were looked through after the hub was restored. It is a record itself.
#[utoipa::path(
    post, path = "/phones/looked-through", tag = "enrolment",
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses(
        (status = 201, body = Made), (status = 403, description = "Not allowed", body = ProblemBody),
        (status = 409, description = "Nothing waits to be looked through", body = ProblemBody)
    )
)]
pub(super) async fn post_looked_through(
    State(app): State<App>,
    allowed: Allowed<Running>,
) -> Result<(StatusCode, Json<Made>), Problem> {
    let entry = looked_through(app.hub(), allowed.person.id).await?;
    Ok((StatusCode::CREATED, Json(Made { entry: entry_name(&entry) })))
}
