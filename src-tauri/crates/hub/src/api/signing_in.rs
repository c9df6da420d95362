//! Signing in and out.

use axum::Json;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use hubstore::Access;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::allowed::{Allowed, COOKIE, Looking, cookie};
use super::{App, Problem, ProblemBody};
use crate::names::hex;
use crate::people::{Password, SIGNED_IN_SECONDS, csrf_of, sign_in, sign_out};
use crate::{Error, chance};

/// Who signs in.
#[derive(Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct SigningIn {
    name: String,
    password: String,
}

/// Who is signed in.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Me {
    /// The person's number, hexadecimal.
    id: String,
    name: String,
    /// `read`, `supervise` or `administer`.
    role: &'static str,
    /// What goes into the header `x-headmark-csrf` of everything that changes something.
    csrf: String,
}

/// How often a name may be tried in a minute, from wherever.
const TRIES: u64 = 10;

/// Signs in: sets a cookie that only this host gets back, and that no script can read.
#[utoipa::path(
    post, path = "/sign-in", tag = "people", request_body = SigningIn,
    responses(
        (status = 200, body = Me),
        (status = 401, description = "Name and password do not belong together", body = ProblemBody),
        (status = 429, description = "Too often", body = ProblemBody),
    )
)]
pub(super) async fn post_sign_in(
    State(app): State<App>,
    Json(SigningIn { name, password }): Json<SigningIn>,
) -> Result<Response, Problem> {
    let hub = app.hub();
    // By its hash: what was typed for a name may be a password.
    let bucket = format!("name {}", hex(&Sha256::digest(&name)));
    if hub.store.strike(&bucket, hub.clock.now().0.div_euclid(60_000)).await? > TRIES {
        return Err(Problem::too_many(60));
    }
    let signed = sign_in(&hub.store, &name, Password::typed(password), chance::bytes()?, hub.now()).await?;
    let Some(signed) = signed else {
        app.counts().not_signed_in.inc();
        let text = "Name and password do not belong together. Type both again.";
        return Err(Problem::new(StatusCode::UNAUTHORIZED, "hub.wrong_password", text));
    };
    let me = Me {
        id: hex(&signed.person.id.0),
        name: signed.person.name,
        role: signed.person.role.word(),
        csrf: signed.csrf,
    };
    with_cookie(&signed.cookie, SIGNED_IN_SECONDS, Json(me))
}

/// Signs out.
#[utoipa::path(
    post, path = "/sign-out", tag = "people",
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 204))
)]
pub(super) async fn post_sign_out(
    State(app): State<App>,
    _: Allowed<Looking>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    if let Some(cookie) = cookie(&headers) {
        sign_out(&app.hub().store, &cookie, app.hub().now()).await?;
    }
    with_cookie("", 0, StatusCode::NO_CONTENT)
}

/// Returns who is signed in.
#[utoipa::path(get, path = "/me", tag = "people", responses((status = 200, body = Me), (status = 401, body = ProblemBody)))]
pub(super) async fn get_me(allowed: Allowed<Looking>, headers: HeaderMap) -> Result<Json<Me>, Problem> {
    let cookie = cookie(&headers).ok_or_else(Problem::not_signed_in)?;
    let person = allowed.person;
    Ok(Json(Me {
        id: hex(&person.id.0),
        name: person.name,
        role: person.role.word(),
        csrf: csrf_of(&cookie),
    }))
}

fn with_cookie(value: &str, seconds: i64, rest: impl IntoResponse) -> Result<Response, Problem> {
    let line = format!("{COOKIE}={value}; Path=/; Max-Age={seconds}; Secure; HttpOnly; SameSite=Strict");
    let line = HeaderValue::from_str(&line).map_err(|_| Error::Interrupted)?;
    Ok(([(header::SET_COOKIE, line)], rest).into_response())
}
