//! What the hub says itself: entries of its own log, signed and appended.

use hubstore::{Error as StoreError, Follows, HubStore, NewEntry};
use record::{EntryId, Kind, Link, Signer, seal};

use crate::Error;
use crate::home::Hub;

/// What is to be said: a body, its kind and version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Say {
    /// The kind of entry.
    pub kind: Kind,
    /// The version of the body.
    pub version: u32,
    /// The body.
    pub body: Vec<u8>,
}

/// How often another process may be first before it is given up; each time somebody else went through.
pub(crate) const TRIES: u32 = 50;

impl<S, K, P> Hub<S, K, P>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    /// Signs bodies as the next entries of the hub's log and appends them, durably. Where another process appended
    /// first, signs again behind it.
    ///
    /// # Errors
    ///
    /// What the store or the signer says; then nothing was said.
    pub async fn say(&self, said: &[Say]) -> Result<Vec<EntryId>, Error> {
        for _ in 0..TRIES {
            if let Some(ids) = self.say_once(said, Follows::default()).await? {
                return Ok(ids);
            }
        }
        Err(StoreError::Busy.into())
    }

    /// Signs bodies once and appends them together with what follows from them, in one durable step. Returns none, and
    /// nothing was done, where another process was first: what follows is then to be worked out anew.
    ///
    /// # Errors
    ///
    /// What the store or the signer says; then nothing was said.
    pub async fn say_once(&self, said: &[Say], follows: Follows) -> Result<Option<Vec<EntryId>>, Error> {
        let entries = self.sealed(said).await?;
        let ids = entries.iter().map(|entry| entry.id).collect();
        match self.store.append_with(entries, follows).await {
            Ok(_) => Ok(Some(ids)),
            Err(StoreError::OutOfStep { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    async fn sealed(&self, said: &[Say]) -> Result<Vec<NewEntry>, Error> {
        let mut link = match self.store.tip(self.identity.log).await? {
            None => Link::First,
            Some((seq, payload)) => Link::After { seq, payload },
        };
        let mut entries = Vec::with_capacity(said.len());
        for say in said {
            let claimed = self.clock.now().claimed();
            let new =
                record::NewEntry { link, kind: say.kind, body_version: say.version, claimed, boot: None };
            let sealed = seal(&new, &say.body, &self.signing.key)?;
            link = sealed.next();
            entries.push(NewEntry::of(&record::open(&sealed.bytes)?));
        }
        Ok(entries)
    }
}
