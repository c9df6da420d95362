//! What an object store's errors come to.

use std::error::Error as _;

use object_store::Error as Failed;

use crate::Error;

/// The most characters of another program's words that are passed on.
const MOST: usize = 200;

/// Says a failure in our words. What was not found is the caller's to judge before.
pub(super) fn failure(error: &Failed) -> Error {
    let what = cause(error);
    match error {
        // Whoever runs the hub gives it the right key, and then the same call goes well.
        Failed::PermissionDenied { .. } | Failed::Unauthenticated { .. } => Error::Io { what },
        Failed::NotFound { .. } => Error::Unreadable { what },
        Failed::InvalidPath { .. } | Failed::NotSupported { .. } | Failed::NotImplemented => {
            Error::Broken { what }
        }
        _ if is_full(error) => Error::Full,
        _ => Error::Unreachable { what },
    }
}

/// Says a failure of a call that makes something: what is not found then is the place for it.
pub(super) fn not_made(error: &Failed) -> Error {
    match error {
        Failed::NotFound { .. } => {
            tracing::warn!(%error, "the place for photos is not there");
            Error::Io { what: "the bucket or folder for photos is not there".into() }
        }
        _ => failure(error),
    }
}

/// Returns whether it is the bucket that was not found, by the code that S3 has for it.
pub(super) fn is_no_bucket(error: &Failed) -> bool {
    matches!(error, Failed::NotFound { .. }) && error.to_string().contains("NoSuchBucket")
}

/// What lies at the bottom of a failure. The rest names addresses, and what an object store answers may name the key: both
/// are for the log, and not for whoever asked the hub.
fn cause(error: &Failed) -> String {
    tracing::warn!(%error, "the store of photos failed");
    let mut cause: &dyn std::error::Error = error;
    while let Some(below) = cause.source() {
        cause = below;
    }
    let said = cause.to_string();
    let line = said.split(['<', '\n']).next().unwrap_or_default().trim_end_matches([':', ' ']);
    line.chars().take(MOST).collect()
}

fn is_full(error: &Failed) -> bool {
    let mut cause = error.source();
    while let Some(error) = cause {
        let io = error.downcast_ref::<std::io::Error>();
        if io.is_some_and(|io| io.kind() == std::io::ErrorKind::StorageFull) {
            return true;
        }
        cause = error.source();
    }
    false
}
