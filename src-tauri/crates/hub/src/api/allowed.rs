//! Who asks, and whether they may. A handler that takes one of these cannot be reached without it; for everything but
//! looking, the second secret of the sign-in must stand in a header.

use std::marker::PhantomData;

use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::http::{HeaderMap, Method, StatusCode, header};
use bodies::HubRole;
use hubstore::HubPerson;

use super::{App, Problem};
use crate::people::{csrf_of, hold};

/// The cookie's name; its prefix has browsers refuse it without TLS, for another path or another host.
pub(super) const COOKIE: &str = "__Host-headmark";
/// The header of the second secret.
pub(super) const CSRF: &str = "x-headmark-csrf";

/// A role that a route asks for.
pub(super) trait Asks {
    const ROLE: HubRole;
}

/// Looking.
#[derive(Debug)]
pub(super) struct Looking;
/// Deciding.
#[derive(Debug)]
pub(super) struct Deciding;
/// Running the hub.
#[derive(Debug)]
pub(super) struct Running;

impl Asks for Looking {
    const ROLE: HubRole = HubRole::Read;
}
impl Asks for Deciding {
    const ROLE: HubRole = HubRole::Supervise;
}
impl Asks for Running {
    const ROLE: HubRole = HubRole::Administer;
}

/// A person who is signed in and may.
#[derive(Debug)]
pub(super) struct Allowed<R> {
    pub(super) person: HubPerson,
    role: PhantomData<R>,
}

impl<R: Asks> FromRequestParts<App> for Allowed<R> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Allowed<R>, Problem> {
        let cookie = cookie(&parts.headers).ok_or_else(Problem::not_signed_in)?;
        let person = hold(&app.hub().store, &cookie, app.hub().now()).await?;
        let person = person.ok_or_else(Problem::not_signed_in)?;
        let looks = matches!(parts.method, Method::GET | Method::HEAD);
        let given = parts.headers.get(CSRF).and_then(|value| value.to_str().ok());
        if !looks && !given.is_some_and(|given| same(given, &csrf_of(&cookie))) {
            let text = "The request did not come from the hub's own page. Load the page again.";
            return Err(Problem::new(StatusCode::FORBIDDEN, "hub.csrf", text));
        }
        if person.role < R::ROLE {
            let text = "Your role does not allow this. Ask somebody who runs the hub.";
            return Err(Problem::new(StatusCode::FORBIDDEN, "hub.role", text));
        }
        Ok(Allowed { person, role: PhantomData })
    }
}

/// Returns the sign-in's secret out of the cookies.
pub(super) fn cookie(headers: &HeaderMap) -> Option<String> {
    let lines = headers.get_all(header::COOKIE).iter().filter_map(|line| line.to_str().ok());
    let pairs = lines.flat_map(|line| line.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.filter(|(name, _)| *name == COOKIE).map(|(_, value)| value.to_owned()).next()
}

/// Compares without telling by its time how much was right.
fn same(one: &str, other: &str) -> bool {
    let (one, other) = (one.as_bytes(), other.as_bytes());
    one.len() == other.len() && one.iter().zip(other).fold(0, |sum, (a, b)| sum | (a ^ b)) == 0
}
