//! What is answered when something is refused or fails: a status, a stable code, and a sentence that says what to do.

use axum::Json;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;

use crate::Error;
use crate::exchange::PushError;

/// A refusal or failure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    status: StatusCode,
    code: &'static str,
    text: String,
    wait: Option<u32>,
}

/// A refusal or failure, as it is written.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub struct ProblemBody {
    /// A stable word.
    pub code: String,
    /// What happened and what to do.
    pub text: String,
}

impl Problem {
    pub(super) fn new(status: StatusCode, code: &'static str, text: impl Into<String>) -> Problem {
        Problem { status, code, text: text.into(), wait: None }
    }

    pub(super) fn not_found(text: &str) -> Problem {
        Problem::new(StatusCode::NOT_FOUND, "hub.not_found", text)
    }

    pub(super) fn bad(text: impl Into<String>) -> Problem {
        Problem::new(StatusCode::BAD_REQUEST, "hub.bad_request", text)
    }

    pub(super) fn too_many(seconds: u32) -> Problem {
        let text = format!("Too many requests came from here. Wait {seconds} seconds and try again.");
        let problem = Problem::new(StatusCode::TOO_MANY_REQUESTS, "hub.too_many", text);
        Problem { wait: Some(seconds), ..problem }
    }

    pub(super) fn not_signed_in() -> Problem {
        Problem::new(StatusCode::UNAUTHORIZED, "hub.not_signed_in", "Sign in first.")
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let body = ProblemBody { code: self.code.to_owned(), text: self.text };
        let mut response = (self.status, Json(body)).into_response();
        if let Some(wait) = self.wait {
            response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(wait));
        }
        response
    }
}

impl From<Error> for Problem {
    fn from(error: Error) -> Problem {
        match error {
            Error::Asked(text) => Problem::new(StatusCode::CONFLICT, "hub.refused", text),
            Error::WeakPassphrase(text) => Problem::bad(text),
            Error::Body(error) => Problem::bad(error.to_string()),
            Error::Store(error) => Problem::from(error),
            other => {
                // What went wrong inside is for whoever runs the hub; it names no record and no person.
                tracing::error!(error = %other, "the hub failed");
                let text =
                    "The hub could not do this. Try again; if it stays so, ask whoever looks after the hub.";
                Problem::new(StatusCode::INTERNAL_SERVER_ERROR, "hub.failed", text)
            }
        }
    }
}

impl From<hubstore::Error> for Problem {
    fn from(error: hubstore::Error) -> Problem {
        let (code, again) = (error.code(), error.is_retryable());
        let (status, wait) = match &error {
            hubstore::Error::NotCited { .. } => (StatusCode::NOT_FOUND, None),
            hubstore::Error::NotAPiece { .. }
            | hubstore::Error::WrongPhoto { .. }
            | hubstore::Error::OtherLength { .. }
            | hubstore::Error::NameTaken => (StatusCode::CONFLICT, None),
            hubstore::Error::PhotoTooLong { .. } => (StatusCode::PAYLOAD_TOO_LARGE, None),
            hubstore::Error::Full => (StatusCode::INSUFFICIENT_STORAGE, Some(300)),
            _ if again => (StatusCode::SERVICE_UNAVAILABLE, Some(5)),
            _ => (StatusCode::INTERNAL_SERVER_ERROR, None),
        };
        if status.is_server_error() {
            tracing::error!(%error, code, "the store failed");
        }
        Problem { wait, ..Problem::new(status, code, error.to_string()) }
    }
}

impl From<PushError> for Problem {
    fn from(error: PushError) -> Problem {
        match error {
            PushError::Hub(error) => error.into(),
            PushError::Exchange(error) => {
                let status = match &error {
                    exchange::Error::NotProved => StatusCode::FORBIDDEN,
                    exchange::Error::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
                    _ => StatusCode::BAD_REQUEST,
                };
                Problem::new(status, error.code(), error.to_string())
            }
        }
    }
}
