//! Confirming a phone: its certificate is an entry of the hub's log.

use bodies::{CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, ChangeMade, PersonId};
use hubstore::{Batch, Device, Enrolment, HubStore, NewLog};
use record::{EntryId, LogId, PublicKey, Signer};

use super::Offer;
use crate::Error;
use crate::changing::entry;
use crate::exchange::give_receipts;
use crate::home::Hub;
use crate::saying::Say;

/// Where an enrolment stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Confirming {
    /// Nobody of this name waits, and none was confirmed.
    Unknown,
    /// The phone waits; these are its digits.
    Waiting(String),
    /// The phone is enrolled; its certificate, and the keys and entries by which it trusts it, in order.
    Enrolled {
        /// Keys of the organisation's and the hub's logs.
        keys: Vec<Vec<u8>>,
        /// The hub's certificate and the phone's.
        entries: Vec<Vec<u8>>,
    },
}

/// Confirms a phone that waits, if these are its digits: signs its certificate and, in the same step, who confirmed it;
/// takes in what was parked of it, and lets it go from the queue last, so that a cut before then only makes it wait on.
/// `by` is who compared the digits; none at the hub's own machine, where nobody was named. Returns the certificate.
///
/// # Errors
///
/// [`Error::Asked`] where nobody waits or the digits are others; what the store says.
pub async fn confirm<S, K, P>(
    hub: &Hub<S, K, P>,
    by: Option<PersonId>,
    phone: LogId,
    digits: &str,
) -> Result<EntryId, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let waiting = hub.store.enrolments().await?;
    let enrolment = waiting.into_iter().find(|one| one.log == phone);
    let enrolment = enrolment.ok_or_else(|| asked("No such phone waits. Have it scan a new code."))?;
    if enrolment.digits != digits {
        let text = "The digits are not the ones that the phone shows. Do not confirm it: send it away and make a new code.";
        return Err(asked(text));
    }
    let (certificate, device) = certificate(&enrolment)?;
    let body = certificate.encode()?;
    let certified = Say { kind: CERTIFICATE, version: CERTIFICATE_VERSION, body };
    let said = hub.say(&[certified, entry(by, ChangeMade::PhoneConfirmed(phone))?]).await?;
    let known = vec![NewLog { log: phone, key: enrolment.key.clone() }];
    hub.store.ingest(Batch { known, ..Batch::default() }).await?;
    hub.store.put_device(&device).await?;
    // What was parked counts now, so a receipt is owed for it.
    give_receipts(hub, &[phone].into(), bodies::Grade::Stored).await?;
    hub.store.drop_enrolment(phone).await?;
    said.first().copied().ok_or(Error::Interrupted)
}

fn asked(text: &str) -> Error {
    Error::Asked(text.to_owned())
}

fn certificate(enrolment: &Enrolment) -> Result<(Certificate, Device), Error> {
    let offer: Offer = serde_json::from_slice(&enrolment.content)
        .map_err(|error| Error::OtherForm { what: "The code of this enrolment", why: error.to_string() })?;
    let label = if offer.label.is_empty() { enrolment.label.clone() } else { offer.label };
    let person = PersonId(offer.person);
    let areas = offer.areas.iter().filter(|area| !area.is_empty()).cloned().collect();
    let certificate = Certificate {
        key: PublicKey::from_cose(&enrolment.key)?,
        label: label.clone(),
        certified: Certified::Device { person, areas },
    };
    let device = Device { log: enrolment.log, label, person: Some(person), areas: offer.areas };
    Ok((certificate, device))
}

/// Returns where an enrolment stands.
///
/// # Errors
///
/// What the store says.
pub async fn status<S, K, P>(hub: &Hub<S, K, P>, phone: LogId) -> Result<Confirming, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    if trusted.trust().device(phone).is_some() {
        let (keys, entries) = crate::trusted::chain_to(hub, phone).await?;
        return Ok(Confirming::Enrolled { keys, entries });
    }
    let waiting = hub.store.enrolments().await?;
    let waits = waiting.into_iter().find(|one| one.log == phone);
    Ok(waits.map_or(Confirming::Unknown, |one| Confirming::Waiting(one.digits)))
}
