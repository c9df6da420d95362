//! What people decide.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use bodies::{Decision, LastTrusted, Review};
use serde::Deserialize;

use super::allowed::{Allowed, Deciding};
use super::asked_names::{read_entry, read_log};
use super::enrolling::Made;
use super::{App, Problem, ProblemBody};
use crate::deciding::{review, revoke};
use crate::names::entry_name;

/// A review.
#[derive(Debug, Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Reviewing {
    /// The record's name.
    subject: String,
    /// `approved` or `returned` for a visit, `adopted` for a record of a log that is no longer trusted or is forked,
    /// `accepted` or `declined` for a proposal.
    decision: String,
    /// What is said to it.
    #[serde(default)]
    note: String,
}

/// Reviews a record. What is decided is a record itself.
#[utoipa::path(
    post, path = "/reviews", tag = "records", request_body = Reviewing,
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 201, body = Made), (status = 409, body = ProblemBody))
)]
pub(super) async fn post_reviews(
    State(app): State<App>,
    allowed: Allowed<Deciding>,
    Json(asked): Json<Reviewing>,
) -> Result<(StatusCode, Json<Made>), Problem> {
    let decision = Decision::from_word(&asked.decision).ok_or_else(|| {
        Problem::bad("This is no decision. Write approved, returned, adopted, accepted or declined.")
    })?;
    let subject = read_entry(&asked.subject)?;
    let said = Review { subject, decision, note: asked.note, person: allowed.person.id };
    let entry = review(app.hub(), &said).await?;
    Ok((StatusCode::CREATED, Json(Made { entry: entry_name(&entry) })))
}

/// A revocation.
#[derive(Debug, Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Revoking {
    /// The phone's log, hexadecimal.
    log: String,
    /// The last record of it that is still trusted; none trusts nothing.
    #[serde(default)]
    last: Option<String>,
    /// Why.
    reason: String,
}

/// Revokes a phone's log from a record on.
#[utoipa::path(
    post, path = "/revocations", tag = "enrolment", request_body = Revoking,
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 201, body = Made), (status = 409, body = ProblemBody))
)]
pub(super) async fn post_revocations(
    State(app): State<App>,
    allowed: Allowed<Deciding>,
    Json(asked): Json<Revoking>,
) -> Result<(StatusCode, Json<Made>), Problem> {
    let log = read_log(&asked.log)?;
    let last = asked.last.as_deref().map(read_entry).transpose()?;
    if last.is_some_and(|last| last.log != log) {
        return Err(Problem::bad("The last trusted record is of another log. Take one of this phone's."));
    }
    let last = last.map(|last| LastTrusted { seq: last.seq, payload: last.payload });
    let entry = revoke(app.hub(), log, last, &asked.reason, allowed.person.id).await?;
    Ok((StatusCode::CREATED, Json(Made { entry: entry_name(&entry) })))
}
