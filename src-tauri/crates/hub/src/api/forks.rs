//! What needs a person's eye: forks, and what waits for a certificate.

use axum::Json;
use axum::extract::State;
use hubstore::{Ledger, Logs};
use record::EntryId;
use serde::Serialize;

use super::allowed::{Allowed, Looking};
use super::{App, Problem};
use crate::counting::{Counting, word};
use crate::names::{entry_name, hex};

/// A place of a log at which two payloads stand.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Fork {
    log: String,
    seq: u64,
    /// The records there; all are kept.
    records: Vec<OfFork>,
}

/// One of several records at one place.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct OfFork {
    /// The record's name.
    id: String,
    /// `forked` until somebody has decided; then `counts`, `adopted` or `after_revocation`.
    standing: &'static str,
}

/// Returns all forks. Both branches are kept, and from where they part neither counts until a supervisor decides: by
/// revoking the log up to the last record of one of them, which then counts, or by adopting records one by one.
#[utoipa::path(get, path = "/forks", tag = "records", responses((status = 200, body = Vec<Fork>)))]
pub(super) async fn get_forks(
    State(app): State<App>,
    _: Allowed<Looking>,
) -> Result<Json<Vec<Fork>>, Problem> {
    let mut counting = Counting::at(app.hub()).await?;
    let mut forks = Vec::new();
    for hubstore::Fork { log, seq, payloads } in app.hub().store.forks().await? {
        let mut records = Vec::with_capacity(payloads.len());
        for payload in payloads {
            let id = EntryId { log, seq, payload };
            let standing = word(counting.standing(&id).await?);
            records.push(OfFork { id: entry_name(&id), standing });
        }
        forks.push(Fork { log: hex(&log.0), seq: seq.get(), records });
    }
    Ok(Json(forks))
}

/// A log that nobody vouches for, of which entries wait.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Parked {
    log: String,
    entries: u64,
    bytes: u64,
}

/// Returns the logs of which entries wait for a certificate.
#[utoipa::path(get, path = "/parked", tag = "records", responses((status = 200, body = Vec<Parked>)))]
pub(super) async fn get_parked(
    State(app): State<App>,
    _: Allowed<Looking>,
) -> Result<Json<Vec<Parked>>, Problem> {
    let parked = app.hub().store.parked().await?.into_iter();
    let parked = parked.map(|one| Parked { log: hex(&one.log.0), entries: one.entries, bytes: one.bytes });
    Ok(Json(parked.collect()))
}
