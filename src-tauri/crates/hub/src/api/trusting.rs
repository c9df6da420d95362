//! Whom this hub belongs to, for a phone that knows the organisation's fingerprint.

use axum::Json;
use axum::extract::State;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;

use super::{App, Problem};
use crate::names::hex;
use crate::trusted::of_organisation;

/// Keys and entries, each as base64 of its bytes.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Chain {
    /// COSE_Keys of the logs of these entries.
    pub(super) keys: Vec<String>,
    /// Entries.
    pub(super) entries: Vec<String>,
}

impl Chain {
    pub(super) fn of((keys, entries): (Vec<Vec<u8>>, Vec<Vec<u8>>)) -> Chain {
        let encode = |all: Vec<Vec<u8>>| all.iter().map(|bytes| STANDARD.encode(bytes)).collect();
        Chain { keys: encode(keys), entries: encode(entries) }
    }
}

/// Whom this hub belongs to.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Trust {
    /// The organisation's COSE_Key, base64. Its SHA-256 is the fingerprint that an invitation names.
    organisation: String,
    /// The hub's log, hexadecimal.
    hub: String,
    /// The hub's epoch, hexadecimal.
    epoch: String,
    /// The organisation's entries: certificates of hubs, and its own successors.
    #[serde(flatten)]
    chain: Chain,
}

/// Returns the organisation's key and what it certified.
#[utoipa::path(get, path = "/trust", tag = "exchange", responses((status = 200, body = Trust)))]
pub(super) async fn get_trust(State(app): State<App>) -> Result<Json<Trust>, Problem> {
    let hub = app.hub();
    Ok(Json(Trust {
        organisation: STANDARD.encode(hub.organisation().cose()),
        hub: hex(&hub.identity.log.0),
        epoch: hex(&hub.identity.epoch.0),
        chain: Chain::of(of_organisation(hub).await?),
    }))
}
