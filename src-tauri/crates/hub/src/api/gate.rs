//! The gate before all routes: how often an address may ask, request ids, one line in the log for each request.

use std::net::SocketAddr;
use std::time::Instant;

use axum::extract::{ConnectInfo, MatchedPath, Request, State};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use hubstore::Access;

use super::counts::Answered;
use super::{App, Problem};
use crate::household::household;

/// The header of a request's number.
pub(super) const REQUEST_ID: &str = "x-request-id";

/// What costs the hub much, or is worth trying often to a stranger.
const DEAR: [&str; 2] = ["/sign-in", "/enrol"];

/// Counts by address in the store, so that several processes count together.
pub(super) async fn rate(State(app): State<App>, request: Request, next: Next) -> Response {
    let minute = app.hub().clock.now().0.div_euclid(60_000);
    let dear = DEAR.contains(&request.uri().path());
    let limits = app.limits();
    let (what, most) = if dear { ("dear", limits.dear_a_minute) } else { ("usual", limits.usual_a_minute) };
    let from = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|ConnectInfo(from)| from.ip());
    let bucket = format!("{what} {}", household(from));
    match app.hub().store.strike(&bucket, minute).await {
        Ok(count) if count > most => Problem::too_many(60).into_response(),
        Ok(_) => next.run(request).await,
        Err(error) => Problem::from(error).into_response(),
    }
}

/// Writes one line for each request: what was asked by its route, how it went, how long it took. Never the address
/// asked for, which may hold tags, and never who asked.
pub(super) async fn log(State(app): State<App>, request: Request, next: Next) -> Response {
    let began = Instant::now();
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().map_or("none", MatchedPath::as_str).to_owned();
    let id = request.headers().get(REQUEST_ID).and_then(|id| id.to_str().ok()).unwrap_or_default().to_owned();
    let response = next.run(request).await;
    let (status, took) = (response.status().as_u16(), began.elapsed());
    tracing::info!(%method, route, status, millis = took.as_millis(), id, "answered");
    app.counts().seconds.observe(took.as_secs_f64());
    app.counts().requests.get_or_create(&Answered { route: format!("{method} {route}"), status }).inc();
    response
}
