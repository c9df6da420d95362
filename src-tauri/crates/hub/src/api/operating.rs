//! For whoever looks after the hub.

use axum::Json;
use axum::extract::State;
use axum::http::header;
use axum::response::IntoResponse;
use hubstore::{Jobs, Ledger};
use serde::Serialize;

use super::{App, Problem, ProblemBody};
use crate::phones::phones;
use crate::restoring::restored;

/// How the hub is.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Health {
    /// Always `up`: a hub that is not says so by its status.
    state: &'static str,
    /// The number of the newest entry.
    newest: u64,
    /// False from a restore on until somebody has looked through the phones: revocations may be missing.
    phones_looked_through: bool,
}

/// Tells whether the hub and its storage answer.
#[utoipa::path(
    get, path = "/health", tag = "operation",
    responses((status = 200, body = Health), (status = 503, description = "The storage does not answer", body = ProblemBody))
)]
pub(super) async fn get_health(State(app): State<App>) -> Result<Json<Health>, Problem> {
    let newest = app.hub().store.newest().await?;
    app.photos().ready().await?;
    let phones_looked_through = restored(&app.hub().store).await?.is_none();
    Ok(Json(Health { state: "up", newest: newest.0, phones_looked_through }))
}

/// Counters, as OpenMetrics text 1.0.
#[utoipa::path(
    get, path = "/metrics", tag = "operation",
    responses((status = 200, content_type = "application/openmetrics-text", body = String))
)]
pub(super) async fn get_metrics(State(app): State<App>) -> Result<impl IntoResponse, Problem> {
    let tally = app.hub().store.tally().await?;
    let gauge = |count: u64| i64::try_from(count).unwrap_or(i64::MAX);
    app.counts().waiting.set(gauge(tally.waiting));
    app.counts().differs.set(gauge(tally.done.get("differs").copied().unwrap_or_default()));
    app.counts().to_look_through.set(gauge(to_look_through(&app).await?));
    let kind = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    Ok(([(header::CONTENT_TYPE, kind)], app.counts().text()))
}

/// How many phones are trusted of which a revocation may be missing.
async fn to_look_through(app: &App) -> Result<u64, Problem> {
    if restored(&app.hub().store).await?.is_none() {
        return Ok(0);
    }
    Ok(phones(app.hub()).await?.iter().filter(|phone| phone.revoked.is_none()).count() as u64)
}
