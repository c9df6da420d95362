//! Enrolling phones: codes, phones that show one, and their confirmation.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use base64::Engine;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use hubstore::{Access, Moment};
use serde::{Deserialize, Serialize};

use super::allowed::{Allowed, Deciding, Running};
use super::asked_names::read_log;
use super::trusting::Chain;
use super::{App, Problem, ProblemBody};
use crate::chance;
use crate::enrol::{CODE_SECONDS, Confirming, Invitation, Offer, ask, confirm, offer, status};
use crate::names::{entry_name, hex, unhex};

/// A phone shows its code.
#[derive(Debug, Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Asking {
    /// The phone's COSE_Key, base64.
    key: String,
    /// The one-time code, base64url without padding, as in the invitation.
    code: String,
    /// What the phone calls itself, 60 characters at most. Not a person's name.
    #[serde(default)]
    label: String,
    /// The key's signature over `headmark/enrol/1`, the organisation's log, the code and the label; base64.
    proof: String,
}

/// A phone waits to be confirmed.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Asked {
    /// What to ask with after it: the phone's log, hexadecimal.
    id: String,
}

/// Where an enrolment stands.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Stands {
    /// `waiting` or `enrolled`.
    state: &'static str,
    /// When enrolled: the hub's certificate and the phone's, with the keys to verify them.
    #[serde(skip_serializing_if = "Option::is_none")]
    chain: Option<Chain>,
}

/// A phone shows a one-time code and proves its key.
#[utoipa::path(
    post, path = "/enrol", tag = "enrolment", request_body = Asking,
    responses(
        (status = 202, description = "It waits to be confirmed", body = Asked),
        (status = 403, description = "The code is unknown, spent or expired, or the key is not proved", body = ProblemBody),
        (status = 429, description = "Too often", body = ProblemBody),
    )
)]
pub(super) async fn post_enrol(
    State(app): State<App>,
    Json(asking): Json<Asking>,
) -> Result<(StatusCode, Json<Asked>), Problem> {
    let (Ok(key), Some(code), Some(proof)) =
        (STANDARD.decode(&asking.key), code(&asking.code), proof(&asking.proof))
    else {
        return Err(Problem::bad("Key, code or proof is not in its form. Scan the hub's code again."));
    };
    if asking.label.chars().count() > 60 || asking.label.chars().any(char::is_control) {
        return Err(Problem::bad("The phone's name is longer than 60 characters. Shorten it."));
    }
    let waits = ask(app.hub(), &key, &code, &asking.label, &proof).await?.ok_or_else(|| {
        let text = "This code is not good any more, or it is of another hub. Have the hub show a new one.";
        Problem::new(StatusCode::FORBIDDEN, "enrol.code", text)
    })?;
    Ok((StatusCode::ACCEPTED, Json(Asked { id: hex(&waits.log.0) })))
}

fn code(text: &str) -> Option<[u8; 16]> {
    URL_SAFE_NO_PAD.decode(text).ok()?.try_into().ok()
}

fn proof(text: &str) -> Option<[u8; 64]> {
    STANDARD.decode(text).ok()?.try_into().ok()
}

/// Returns where an enrolment stands.
#[utoipa::path(
    get, path = "/enrol/{id}", tag = "enrolment", params(("id" = String, Path, description = "The phone's log, hexadecimal")),
    responses((status = 200, body = Stands), (status = 404, description = "No such phone waits", body = ProblemBody))
)]
pub(super) async fn get_enrol(
    State(app): State<App>,
    Path(id): Path<String>,
) -> Result<Json<Stands>, Problem> {
    match status(app.hub(), read_log(&id)?).await? {
        Confirming::Unknown => Err(Problem::not_found("No such phone waits. Scan a new code of the hub.")),
        Confirming::Waiting(_) => Ok(Json(Stands { state: "waiting", chain: None })),
        Confirming::Enrolled { keys, entries } => {
            Ok(Json(Stands { state: "enrolled", chain: Some(Chain::of((keys, entries))) }))
        }
    }
}

/// What a code is made for.
#[derive(Debug, Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Offering {
    /// What the phone is to be called; its own word where this is empty.
    #[serde(default)]
    label: String,
    /// Whose it is: the person's number, hexadecimal.
    person: String,
    /// The areas of the register that it gets; empty for all.
    #[serde(default)]
    areas: Vec<String>,
}

/// A code to be shown.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Offered {
    /// What the QR code holds.
    invitation: String,
    /// For how many seconds it is good.
    seconds: i64,
}

/// Makes a one-time code for a phone.
#[utoipa::path(
    post, path = "/enrolments", tag = "enrolment", request_body = Offering,
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 201, body = Offered), (status = 403, description = "Not allowed", body = ProblemBody))
)]
pub(super) async fn post_enrolments(
    State(app): State<App>,
    _: Allowed<Running>,
    Json(offering): Json<Offering>,
) -> Result<(StatusCode, Json<Offered>), Problem> {
    let person = unhex(&offering.person)
        .ok_or_else(|| Problem::bad("This is no number of a person. Take it from the list of people."))?;
    let code = chance::bytes()?;
    let made_for = Offer { label: offering.label, person, areas: offering.areas };
    offer(app.hub(), &code, &made_for).await?;
    let organisation = app.hub().organisation().log();
    let invitation = Invitation { address: app.0.address.clone(), organisation, code }.text();
    Ok((StatusCode::CREATED, Json(Offered { invitation, seconds: CODE_SECONDS })))
}

/// A phone that waits.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Waits {
    id: String,
    label: String,
    digits: String,
    asked: i64,
}

/// Returns the phones that wait to be confirmed, oldest first.
#[utoipa::path(get, path = "/enrolments", tag = "enrolment", responses((status = 200, body = Vec<Waits>)))]
pub(super) async fn get_enrolments(
    State(app): State<App>,
    _: Allowed<Deciding>,
) -> Result<Json<Vec<Waits>>, Problem> {
    let waiting = app.hub().store.enrolments().await?;
    let waits = waiting.into_iter().map(|one| {
        let Moment(asked) = one.asked;
        Waits { id: hex(&one.log.0), label: one.label, digits: one.digits, asked }
    });
    Ok(Json(waits.collect()))
}

/// The digits that the phone shows.
#[derive(Debug, Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Digits {
    digits: String,
}

/// A record that was made.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Made {
    /// Its name.
    pub(super) entry: String,
}

/// Confirms a phone by the digits that it shows. Its certificate is a record, and so is who confirmed it.
#[utoipa::path(
    post, path = "/enrolments/{id}/confirm", tag = "enrolment", request_body = Digits,
    params(("id" = String, Path), ("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 201, body = Made), (status = 409, description = "Other digits, or nobody waits", body = ProblemBody))
)]
pub(super) async fn post_confirm(
    State(app): State<App>,
    allowed: Allowed<Deciding>,
    Path(id): Path<String>,
    Json(Digits { digits }): Json<Digits>,
) -> Result<(StatusCode, Json<Made>), Problem> {
    let entry = confirm(app.hub(), Some(allowed.person.id), read_log(&id)?, &digits).await?;
    Ok((StatusCode::CREATED, Json(Made { entry: entry_name(&entry) })))
}

/// Sends a phone that waits away.
#[utoipa::path(
    delete, path = "/enrolments/{id}", tag = "enrolment",
    params(("id" = String, Path), ("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 204), (status = 404, body = ProblemBody))
)]
pub(super) async fn delete_enrolment(
    State(app): State<App>,
    _: Allowed<Deciding>,
    Path(id): Path<String>,
) -> Result<StatusCode, Problem> {
    let waited = app.hub().store.drop_enrolment(read_log(&id)?).await?;
    if waited { Ok(StatusCode::NO_CONTENT) } else { Err(Problem::not_found("No such phone waits.")) }
}
