//! One-time codes, and phones that show one.

use ::exchange::enrol::{six_digits, to_prove};
use hubstore::{Enrolment, HubStore, Moment, Purpose, Token};
use record::{PublicKey, Signature, Signer};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::Error;
use crate::home::Hub;

/// How long a code is good for.
pub const CODE_SECONDS: i64 = 10 * 60;

/// What a code is made for.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Offer {
    /// What the phone is to be called; the phone's own word where it is empty.
    pub label: String,
    /// Whose it is, by the random number that records name people by.
    pub person: [u8; 16],
    /// The areas of the register that it gets; empty for all.
    pub areas: Vec<String>,
}

/// Makes a code good: `code` are 16 random bytes, kept as their hash only.
///
/// # Errors
///
/// What the store says.
pub async fn offer<S, K, P>(hub: &Hub<S, K, P>, code: &[u8; 16], offer: &Offer) -> Result<(), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let token = Token {
        purpose: Purpose::Code,
        hash: Sha256::digest(code).into(),
        holder: offer.person.to_vec(),
        content: serde_json::to_vec(offer).map_err(|error| Error::Asked(error.to_string()))?,
        expires: Moment(hub.clock.now().after_seconds(CODE_SECONDS).0),
    };
    Ok(hub.store.put_token(&token).await?)
}

/// A phone shows a code and proves its key. Returns the phone that waits now; none where the code is unknown, spent or
/// expired, or the key is not proved. A proof that does not hold spends no code: anyone could make one.
///
/// # Errors
///
/// What the store says.
pub async fn ask<S, K, P>(
    hub: &Hub<S, K, P>,
    key: &[u8],
    code: &[u8; 16],
    label: &str,
    proof: &[u8; 64],
) -> Result<Option<Enrolment>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let Ok(key) = PublicKey::from_cose(key) else { return Ok(None) };
    let message = to_prove(hub.organisation().log(), code, label);
    if !hub.signing.proof.holds(&key, &message, &Signature(*proof)) {
        return Ok(None);
    }
    let enrolment = Enrolment {
        log: key.log(),
        key: key.cose().to_vec(),
        label: label.to_owned(),
        content: Vec::new(),
        digits: six_digits(hub.identity.log, key.log(), code),
        asked: hub.now(),
    };
    Ok(hub.store.enrol_with(Sha256::digest(code).into(), hub.now(), &enrolment).await?)
}
