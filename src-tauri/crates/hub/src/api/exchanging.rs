//! The exchange with phones.

use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use exchange::message::{self, Hello};
use exchange::packed;

use super::{App, Problem, ProblemBody};
use crate::exchange::{hello, push};
use crate::{Error, chance};

/// A phone says what it holds, and is told what is lacking here.
#[utoipa::path(
    post, path = "/exchange/hello", tag = "exchange",
    request_body(content = Vec<u8>, content_type = "application/cbor", description = "A packed hello (PROTOCOL.md)"),
    responses(
        (status = 200, description = "A packed welcome", content_type = "application/cbor", body = Vec<u8>),
        (status = 400, description = "No hello", body = ProblemBody),
        (status = 413, description = "Too large", body = ProblemBody),
        (status = 503, description = "Try again", body = ProblemBody),
    )
)]
pub(super) async fn post_hello(State(app): State<App>, body: Bytes) -> Result<Response, Problem> {
    let _turn = turn(&app).await?;
    let most = app.limits().hello_unpacked;
    let asked: Hello = off_thread(move || message::read(&packed::unpack(&body, most)?)).await?;
    let welcome = hello(app.hub(), &asked, chance::bytes()?).await?;
    packed_answer(move || packed::pack(&message::write(&welcome)?)).await
}

/// A phone brings records and is told, after they are durably kept, what is new for it.
#[utoipa::path(
    post, path = "/exchange/push", tag = "exchange",
    request_body(content = Vec<u8>, content_type = "application/cbor", description = "A packed push (PROTOCOL.md)"),
    responses(
        (status = 200, description = "A packed answer", content_type = "application/cbor", body = Vec<u8>),
        (status = 400, description = "No push", body = ProblemBody),
        (status = 403, description = "Not proved: the session was used, is over, or was given to another key", body = ProblemBody),
        (status = 413, description = "Too large", body = ProblemBody),
        (status = 503, description = "Try again", body = ProblemBody),
        (status = 507, description = "The hub's storage is full", body = ProblemBody),
    )
)]
pub(super) async fn post_push(State(app): State<App>, body: Bytes) -> Result<Response, Problem> {
    let _turn = turn(&app).await?;
    let most = app.limits().push_unpacked;
    let bytes = off_thread(move || packed::unpack(&body, most)).await?;
    let (answer, taken) = push(app.hub(), &bytes, chance::bytes()?).await?;
    app.counts().took(&taken);
    tracing::info!(
        new = taken.new,
        already = taken.already,
        parked = taken.parked,
        forks = taken.forks,
        refused = taken.refused.len(),
        "took in"
    );
    packed_answer(move || packed::pack(&message::write(&answer)?)).await
}

/// A turn to be worked on: what waits, waits packed, so that many phones at once do not fill the memory.
async fn turn(app: &App) -> Result<tokio::sync::SemaphorePermit<'_>, Problem> {
    app.0.pushes.acquire().await.map_err(|_| Error::Interrupted.into())
}

async fn off_thread<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, exchange::Error> + Send + 'static,
) -> Result<T, Problem> {
    let done = tokio::task::spawn_blocking(work).await.map_err(|_| Error::Interrupted)?;
    Ok(done.map_err(crate::exchange::PushError::from)?)
}

async fn packed_answer(
    work: impl FnOnce() -> Result<Vec<u8>, exchange::Error> + Send + 'static,
) -> Result<Response, Problem> {
    let bytes = off_thread(work).await?;
    let kind = [(header::CONTENT_TYPE, HeaderValue::from_static("application/cbor"))];
    Ok((kind, bytes).into_response())
}
