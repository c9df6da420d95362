//! What people decide at the hub. Each decision is an entry of the hub's log, and what follows from it in the hub's lists
//! stands with it in one step: a cut leaves both or neither.

use ::exchange::trust::Standing;
use bodies::{
    Decision, LastTrusted, PROPOSAL, PersonId, Proposal, REVIEW, REVIEW_VERSION, REVOCATION,
    REVOCATION_VERSION, RegisterRow, Review, Revocation, VISIT,
};
use hubstore::{Changed, Error as StoreError, Follows, HubStore, Row, Standing as Listed, StoredEntry};
use record::{EntryId, LogId, Proof, Signer};

use crate::Error;
use crate::counting::standing;
use crate::home::Hub;
use crate::proposed::{applied, is_settled_in};
use crate::saying::{Say, TRIES};

/// Says a review. Where a proposal is accepted, the register says it from then on.
///
/// # Errors
///
/// [`Error::Asked`] for an entry that is not held or of which something else is decided, one to be approved or accepted
/// that counts in nothing (after a revocation, or of a fork that nobody has decided), and a proposal that does not fit the
/// register; what the store says.
pub async fn review<S, K, P>(hub: &Hub<S, K, P>, review: &Review) -> Result<EntryId, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let subject = hub.store.entry(review.subject).await?;
    let subject = subject.ok_or_else(|| asked("This record is not held here. Take its name from a list."))?;
    fits(review, &subject)?;
    let takes_up = matches!(review.decision, Decision::Approved | Decision::Accepted);
    match standing(hub, &review.subject).await? {
        stands if stands.counts() || !takes_up => {}
        Standing::Forked => {
            return Err(asked(
                "The phone's log is forked from this record on or from before it: somebody signed with a copied key. \
                 Neither branch counts until somebody decides. Adopt this record first, or revoke the phone up to the \
                 last record that is honest.",
            ));
        }
        _ => {
            return Err(asked(
                "This record was signed after its phone was revoked, or on another branch, and counts in nothing. Adopt \
                 it first, or return or decline it.",
            ));
        }
    }
    let say = [Say { kind: REVIEW, version: REVIEW_VERSION, body: review.encode()? }];
    for _ in 0..TRIES {
        let follows = match review.decision {
            Decision::Accepted => accepted(hub, &subject).await?,
            Decision::Declined => declined(hub, &subject).await?,
            _ => Follows::default(),
        };
        if let Some(said) = hub.say_once(&say, follows).await? {
            return said.first().copied().ok_or(Error::Interrupted);
        }
    }
    Err(StoreError::Busy.into())
}

/// A visit is approved or returned, a proposal accepted or declined; whoever has to act on it is told why.
fn fits(review: &Review, subject: &StoredEntry) -> Result<(), Error> {
    let (fits, text) = match review.decision {
        Decision::Approved | Decision::Returned => (
            subject.kind == VISIT,
            "Only a visit is approved or returned. Take its name from the list of visits.",
        ),
        Decision::Accepted | Decision::Declined => (
            subject.kind == PROPOSAL,
            "Only a proposal is accepted or declined. Take its name from the list of proposals.",
        ),
        Decision::Adopted => (true, ""),
    };
    if !fits {
        return Err(asked(text));
    }
    let needs_words = matches!(review.decision, Decision::Returned | Decision::Declined);
    if needs_words && review.note.trim().is_empty() {
        return Err(asked("Say why in the note: whoever made this record reads it on their phone."));
    }
    Ok(())
}

/// What follows from accepting: the register's row as the proposal would have it.
async fn accepted<S, K, P>(hub: &Hub<S, K, P>, subject: &StoredEntry) -> Result<Follows, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let proposal = Proposal::of_entry(&record::open(&subject.bytes)?)?;
    let was = hub.store.row(&proposal.tag).await?;
    let was = was.ok_or_else(|| {
        asked("The register has no such instrument. Import it first, or decline the proposal.")
    })?;
    let RegisterRow(instrument) = RegisterRow::decode(&was.bytes)?;
    let instrument = applied(instrument, &proposal.what).map_err(Error::Asked)?;
    let is = Row { bytes: RegisterRow(instrument).encode()?, ..was.clone() };
    Ok(Follows { rows: vec![Changed { was, is }], ..Follows::default() })
}

/// Nothing follows from declining; but what the register says already is not taken out by it.
async fn declined<S, K, P>(hub: &Hub<S, K, P>, subject: &StoredEntry) -> Result<Follows, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    if trusted.decided(&subject.id).is_none_or(|decided| decided.decision != Decision::Accepted) {
        return Ok(Follows::default());
    }
    let proposal = Proposal::of_entry(&record::open(&subject.bytes)?)?;
    let row = hub.store.row(&proposal.tag).await?;
    let row = row.map(|row| RegisterRow::decode(&row.bytes)).transpose()?;
    if row.is_some_and(|RegisterRow(row)| is_settled_in(&row, &proposal.what)) {
        let text = "This proposal was accepted, and the register says it. Correct the register with `headmark-hub import`.";
        return Err(asked(text));
    }
    Ok(Follows::default())
}

/// Revokes a log: what stands behind its last trusted entry, or on another branch, is kept and counts in nothing.
///
/// # Errors
///
/// [`Error::Asked`] for a log that is not a phone's, or a last entry that is not held; what the store says.
pub async fn revoke<S, K, P>(
    hub: &Hub<S, K, P>,
    log: LogId,
    last: Option<LastTrusted>,
    reason: &str,
    person: PersonId,
) -> Result<EntryId, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    if hub.trusted().await?.trust().device(log).is_none() {
        return Err(asked("No phone with this log is enrolled here. Take it from the list of phones."));
    }
    if let Some(last) = last {
        let id = EntryId { log, seq: last.seq, payload: last.payload };
        if !hub.store.holds(&[id]).await?.iter().all(|held| *held) {
            return Err(asked("The last trusted record is not held here. Take its name from a list."));
        }
    }
    let body = Revocation { log, last, reason: reason.to_owned(), person }.encode()?;
    let say = [Say { kind: REVOCATION, version: REVOCATION_VERSION, body }];
    for _ in 0..TRIES {
        let up_to = hub.trusted().await?.trust().revoked_besides(log, last);
        let stands = Listed::Revoked(up_to.map(|last| (last.seq, last.payload)));
        let follows = Follows { standings: vec![(log, stands)], ..Follows::default() };
        if let Some(said) = hub.say_once(&say, follows).await? {
            return said.first().copied().ok_or(Error::Interrupted);
        }
    }
    Err(StoreError::Busy.into())
}

fn asked(text: &str) -> Error {
    Error::Asked(text.to_owned())
}
