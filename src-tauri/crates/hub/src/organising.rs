//! What the organisation's key says, into the ledger: certificates of hubs and of its own successor, revocations of hubs.

use bodies::{
    CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, LastTrusted, PersonId, REVOCATION,
    REVOCATION_VERSION, Revocation,
};
use hubstore::{Batch, HubStore, NewEntry, NewLog};
use record::{Claimed, LogId, PublicKey, Sealed};

use crate::Error;
use crate::keys::OrganisationKey;

/// Signs that a hub's log is not trusted behind an entry of it; none trusts nothing in it. The organisation's file is to
/// be kept anew before this is used.
///
/// # Errors
///
/// What cannot be said in a revocation, such as no reason.
pub fn revoke(
    organisation: &mut OrganisationKey,
    hub: LogId,
    last: Option<LastTrusted>,
    (reason, person): (&str, PersonId),
    now: Claimed,
) -> Result<Sealed, Error> {
    let body = Revocation { log: hub, last, reason: reason.to_owned(), person }.encode()?;
    organisation.sign(REVOCATION, REVOCATION_VERSION, now, &body)
}

/// Signs that another key is the organisation's from now on: the last word of this one that counts. The organisation's
/// file is to be kept anew before this is used.
///
/// # Errors
///
/// None in practice.
pub fn succeed(
    organisation: &mut OrganisationKey,
    successor: &PublicKey,
    now: Claimed,
) -> Result<Sealed, Error> {
    let (key, label) = (successor.clone(), String::new());
    let body = Certificate { key, label, certified: Certified::Organisation }.encode()?;
    organisation.sign(CERTIFICATE, CERTIFICATE_VERSION, now, &body)
}

/// Puts what the organisation's keys signed into the ledger, in one durable step.
///
/// # Errors
///
/// What the store says.
pub async fn publish(store: &impl HubStore, keys: &[&PublicKey], entries: &[Sealed]) -> Result<(), Error> {
    let known = keys.iter().map(|key| NewLog { log: key.log(), key: key.cose().to_vec() }).collect();
    let entries = entries.iter().map(|entry| Ok(NewEntry::of(&record::open(&entry.bytes)?)));
    let entries = entries.collect::<Result<_, Error>>()?;
    store.ingest(Batch { known, entries, ..Batch::default() }).await?;
    Ok(())
}
