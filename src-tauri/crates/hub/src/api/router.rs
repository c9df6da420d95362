//! All routes behind one door, each with its bounds.

use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::{from_fn_with_state, map_response};
use axum::response::Response;
use tower_http::request_id::{MakeRequestUuid, PropagateRequestIdLayer, SetRequestIdLayer};
use tower_http::timeout::TimeoutLayer;

use super::gate::{self, REQUEST_ID};
use super::{App, routes};

/// Returns all routes of a hub.
pub fn router(app: App) -> Router {
    let limits = app.limits().clone();
    let bounded = |router: Router<App>, bytes: usize, time: Duration| {
        let time = TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, time);
        router.layer(DefaultBodyLimit::max(bytes)).layer(time)
    };
    let id = HeaderName::from_static(REQUEST_ID);
    Router::new()
        .merge(bounded(routes::hello(), limits.hello, limits.slow))
        .merge(bounded(routes::push(), limits.push, limits.slow))
        .merge(bounded(routes::photo(), limits.piece, limits.slow))
        .merge(bounded(routes::phones(), limits.body, limits.usual))
        .merge(bounded(routes::people(), limits.body, limits.usual))
        .route_layer(from_fn_with_state(app.clone(), gate::rate))
        .layer(map_response(harden))
        .layer(from_fn_with_state(app.clone(), gate::log))
        .layer(PropagateRequestIdLayer::new(id.clone()))
        .layer(SetRequestIdLayer::new(id, MakeRequestUuid))
        .with_state(app)
}

/// What every answer carries: nothing here is a page to be framed, guessed at or kept by a cache between.
async fn harden(mut response: Response) -> Response {
    let headers = response.headers_mut();
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    headers.insert(
        header::CONTENT_SECURITY_POLICY,
        HeaderValue::from_static("default-src 'none'; frame-ancestors 'none'"),
    );
    response
}
