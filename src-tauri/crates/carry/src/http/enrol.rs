//! Enrolment: which hub this is comes first, and the one-time code only after.
//!
//! The scanned code names the organisation by its key's fingerprint and nothing else is known. So the first connection
//! only asks whom the hub belongs to. What comes must show, signed by that organisation, a hub that may show just the key
//! which this server has proved; only then, and over a connection to such a key, the code is said.

use std::collections::BTreeSet;

use base64::Engine;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use exchange::intake;
use exchange::trust::Trust;
use record::{LogId, Proof, PublicKey};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use tokio::runtime::Handle;

use super::{Address, Client, KeyHash, Method, Pins, Request};
use crate::{Cancel, LinkError};

/// The most bytes of an answer here: certificates, and nothing else.
const MOST: usize = 1024 * 1024;

/// Why a phone could not ask to belong to a hub.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EnrolError {
    /// The link.
    #[error(transparent)]
    Link(#[from] LinkError),
    /// The address in the code is none.
    #[error("The address in the hub's code is not one that can be reached. Have the hub show a new code.")]
    NoAddress,
    /// What answers is no hub.
    #[error("What answers at this address is not a hub. Check the network, or have the hub show a new code.")]
    NoHub,
    /// The organisation of the code did not certify what answers.
    #[error(
        "What answers at this address was not certified by the organisation that the code names. The code was not sent to it. Try another network, and tell the supervisor."
    )]
    NotCertified,
    /// The hub does not take the code.
    #[error(
        "The hub does not take this code: it was used, or is older than ten minutes. Have the hub show a new one."
    )]
    CodeSpent,
}

impl EnrolError {
    /// Returns the stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            EnrolError::Link(error) => error.code(),
            EnrolError::NoAddress => "enrol.no_address",
            EnrolError::NoHub => "enrol.no_hub",
            EnrolError::NotCertified => "enrol.not_certified",
            EnrolError::CodeSpent => "enrol.code_spent",
        }
    }
}

/// A hub that the organisation certified, and that has proved it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Certified {
    /// Its log.
    pub hub: LogId,
    /// The keys that its server may show, the one that it showed among them.
    pub pins: BTreeSet<KeyHash>,
}

/// What a phone says to enrol.
#[derive(Debug, Clone, Copy)]
pub struct Asking<'a> {
    /// The one-time code.
    pub code: &'a [u8; 16],
    /// The phone's COSE_Key.
    pub key: &'a [u8],
    /// What it calls itself.
    pub label: &'a str,
    /// The proof that the key is its own.
    pub proof: &'a [u8; 64],
}

/// Keys, and entries of their logs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Chain {
    /// COSE_Keys.
    pub keys: Vec<Vec<u8>>,
    /// Entries, as they are signed.
    pub entries: Vec<Vec<u8>>,
}

/// Meets the server at an address, and makes sure that the organisation certified it. Nothing secret is said.
///
/// # Errors
///
/// [`EnrolError::NotCertified`] where it did not, and what the link gives.
pub fn meet(
    address: Address,
    organisation: LogId,
    proof: &(impl Proof + ?Sized),
    runtime: Handle,
    cancel: Cancel,
) -> Result<Certified, EnrolError> {
    let client = Client::new(address, Pins::ToBeChecked, runtime, cancel)?;
    let body = client.ask(get("/trust"))?.good().map_err(no_hub)?;
    let told: TrustTold = serde_json::from_slice(&body).map_err(|_| EnrolError::NoHub)?;
    let shown = client.shown().key().ok_or(EnrolError::NotCertified)?;
    let hub = log(&told.hub).ok_or(EnrolError::NoHub)?;
    let pins = certified(organisation, hub, &told, proof).filter(|pins| pins.contains(&shown));
    Ok(Certified { hub, pins: pins.ok_or(EnrolError::NotCertified)? })
}

/// Says the one-time code to a hub that was met; its client knows the pins.
///
/// # Errors
///
/// [`EnrolError::CodeSpent`], and what the link gives.
pub fn ask(hub: &Client, asking: Asking<'_>) -> Result<(), EnrolError> {
    let asked = AskingText {
        key: STANDARD.encode(asking.key),
        code: URL_SAFE_NO_PAD.encode(asking.code),
        label: asking.label,
        proof: STANDARD.encode(asking.proof),
    };
    let body = serde_json::to_vec(&asked).map_err(|_| EnrolError::NoHub)?;
    let request = Request {
        method: Method::Post,
        path: "/enrol",
        media: "application/json",
        body,
        headers: &[],
        most: MOST,
    };
    let answer = hub.ask(request)?;
    if answer.status == 403 {
        return Err(EnrolError::CodeSpent);
    }
    answer.good().map(drop).map_err(EnrolError::Link)
}

/// Asks whether the phone was confirmed; none while it waits.
///
/// # Errors
///
/// [`EnrolError::CodeSpent`] where the hub knows nothing of it any more, and what the link gives.
pub fn enrolled(hub: &Client, phone: LogId) -> Result<Option<Chain>, EnrolError> {
    let path: String = phone.0.iter().map(|byte| format!("{byte:02x}")).collect();
    let answer = hub.ask(get(&format!("/enrol/{path}")))?;
    if answer.status == 404 {
        return Err(EnrolError::CodeSpent);
    }
    let told: StandsTold = serde_json::from_slice(&answer.good()?).map_err(|_| EnrolError::NoHub)?;
    match (told.state.as_str(), told.chain) {
        ("waiting", _) => Ok(None),
        ("enrolled", Some(chain)) => chain.read().map(Some).ok_or(EnrolError::NoHub),
        _ => Err(EnrolError::NoHub),
    }
}

fn get(path: &str) -> Request<'_> {
    Request { method: Method::Get, path, media: "", body: Vec::new(), headers: &[], most: MOST }
}

/// What refuses to tell whom it belongs to is no hub.
fn no_hub(error: LinkError) -> EnrolError {
    match error {
        LinkError::Refused { status: 400..=499, .. } => EnrolError::NoHub,
        other => other.into(),
    }
}

/// Returns the keys that a hub's server may show, if the organisation certified the hub.
fn certified(
    organisation: LogId,
    hub: LogId,
    told: &TrustTold,
    proof: &(impl Proof + ?Sized),
) -> Option<BTreeSet<KeyHash>> {
    let chain = told.chain.read()?;
    let own = STANDARD.decode(&told.organisation).ok()?;
    let keys = chain.keys.iter().map(Vec::as_slice).chain([own.as_slice()]);
    let keys = intake::keys(keys);
    if !keys.contains_key(&organisation) {
        return None;
    }
    let came =
        intake::entries(chain.entries.iter().map(Vec::as_slice), &keys, |_: LogId| None::<PublicKey>, proof);
    let mut trust = Trust::rooted_in(organisation);
    trust.learn(came.entries.iter());
    let standing = trust.hub(hub).filter(|_| trust.revoked(hub).is_none())?;
    Some(standing.tls.iter().map(|key| key.0).collect())
}

fn log(text: &str) -> Option<LogId> {
    let digits = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let byte = |at: usize| u8::from_str_radix(text.get(2 * at..2 * at + 2)?, 16).ok();
    let bytes: Option<Vec<u8>> = digits.then(|| (0..32).map(byte).collect()).flatten();
    Some(LogId(bytes?.try_into().ok()?))
}

#[derive(Serialize)]
struct AskingText<'a> {
    key: String,
    code: String,
    label: &'a str,
    proof: String,
}

#[derive(Deserialize)]
struct TrustTold {
    organisation: String,
    hub: String,
    #[serde(flatten)]
    chain: ChainText,
}

#[derive(Deserialize)]
struct StandsTold {
    state: String,
    chain: Option<ChainText>,
}

#[derive(Deserialize)]
struct ChainText {
    keys: Vec<String>,
    entries: Vec<String>,
}

impl ChainText {
    fn read(&self) -> Option<Chain> {
        let all =
            |texts: &[String]| texts.iter().map(|text| STANDARD.decode(text).ok()).collect::<Option<_>>();
        Some(Chain { keys: all(&self.keys)?, entries: all(&self.entries)? })
    }
}
