//! A hub that was restored, until somebody has looked through its phones.
//!
//! What a hub said after its last backup is missing until a phone that heard of it gives it back. Of that a revocation
//! matters most: a phone that was revoked after the backup, and comes before any that knows of it, is trusted as before.
//! Nothing is held back for it. What phones bring is taken in and acknowledged, so that the field goes on; and the register
//! that goes out is an older one than such a phone was given already. But the hub notes that it was restored, in the step
//! that begins the new epoch, and says so wherever it is looked at; visits that came since are marked. That ends when
//! somebody has looked through the phones and has revoked anew which of them are trusted no more.

use bodies::{ChangeMade, PersonId};
use hubstore::{Arrival, Changed, Error as StoreError, Follows, HubStore, Identity, Meta};
use record::{EntryId, PublicKey, Signer};
use serde::{Deserialize, Serialize};

use crate::Error;
use crate::changing::entry;
use crate::home::Hub;
use crate::saying::TRIES;

/// The setting that holds the note.
const SETTING: &str = "restored";

/// What is said of a visit that came since the restore.
pub const REMARK: &str = "It came in after the hub was restored, and the phones were not looked through since: its phone may \
                          have been revoked.";

/// That a hub was restored, and that its phones were not looked through since.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Restored {
    /// When the hub said the last of what the backup holds of it, in milliseconds since 1970, by the hub's clock. What it
    /// revoked later may be missing.
    pub since: i64,
    /// The number of the newest entry in the backup: what has a higher one came in after the restore.
    pub upto: u64,
}

impl Restored {
    /// Notes a restore from a backup. One of a hub whose phones nobody had looked through since an earlier restore lacks what
    /// was missing then.
    ///
    /// # Errors
    ///
    /// [`Error::OtherForm`] for a backup in which neither its hub nor the organisation said anything; what the store says.
    pub async fn from_backup(kept: &impl HubStore, identity: &Identity) -> Result<Restored, Error> {
        if let Some(earlier) = restored(kept).await? {
            return Ok(earlier);
        }
        let organisation = PublicKey::from_cose(&identity.organisation)?.log();
        // Not the newest of all: a phone's clock may be years ahead, and revocations are the hub's.
        for log in [identity.log, organisation] {
            let Some((seq, payload)) = kept.tip(log).await? else { continue };
            if let Some(said) = kept.entry(EntryId { log, seq, payload }).await? {
                let since = record::open(&said.bytes)?.header.claimed.millis;
                return Ok(Restored { since, upto: kept.newest().await?.0 });
            }
        }
        let why = "neither its hub nor the organisation said anything in it".to_owned();
        Err(Error::OtherForm { what: "The backup", why })
    }

    /// Returns the setting that holds the note, and what it is set to.
    ///
    /// # Errors
    ///
    /// None in practice: two numbers can always be written.
    pub fn setting(&self) -> Result<(&'static str, Vec<u8>), Error> {
        Ok((SETTING, serde_json::to_vec(self).map_err(|error| unreadable(&error))?))
    }

    /// Returns what is to be said of what came in under a number; nothing of what the backup holds.
    #[must_use]
    pub fn remark(&self, arrival: Arrival) -> Option<&'static str> {
        (arrival.0 > self.upto).then_some(REMARK)
    }
}

fn unreadable(error: &serde_json::Error) -> Error {
    Error::OtherForm { what: "The note that this hub was restored", why: error.to_string() }
}

/// Returns whether a hub was restored and its phones were not looked through since.
///
/// # Errors
///
/// What the store says.
pub async fn restored(store: &impl Meta) -> Result<Option<Restored>, Error> {
    let kept = store.setting(SETTING).await?;
    kept.map(|kept| serde_json::from_slice(&kept).map_err(|error| unreadable(&error))).transpose()
}

/// Says that somebody has looked through the phones, and ends the note, in one step.
///
/// # Errors
///
/// [`Error::Asked`] where nothing waits to be looked through; what the store says.
pub async fn looked_through<S, K, P>(hub: &Hub<S, K, P>, by: PersonId) -> Result<EntryId, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    for _ in 0..TRIES {
        let kept = hub.store.setting(SETTING).await?;
        if kept.is_none() {
            let text = "This hub was not restored, or its phones were looked through since. Nothing waits to be looked through.";
            return Err(Error::Asked(text.to_owned()));
        }
        let said = [entry(Some(by), ChangeMade::PhonesLookedThrough)?];
        let settings = vec![(SETTING.to_owned(), Changed { was: kept, is: None })];
        if let Some(said) = hub.say_once(&said, Follows { settings, ..Follows::default() }).await? {
            return said.first().copied().ok_or(Error::Interrupted);
        }
    }
    Err(StoreError::Busy.into())
}
