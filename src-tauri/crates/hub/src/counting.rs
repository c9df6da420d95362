//! Whether an entry counts, as the ledger stands.

use std::collections::BTreeMap;
use std::sync::Arc;

use ::exchange::run::Runs;
use ::exchange::trust::Standing;
use hubstore::HubStore;
use record::{EntryId, LogId, Seq, Signer};

use crate::Error;
use crate::branch::Branch;
use crate::home::Hub;
use crate::trusted::Trusted;

/// What entries are worth, for one answer: whom the hub trusts is looked up once, and so is the trusted branch of each
/// revoked log, and where each other one parts.
#[derive(Debug)]
pub struct Counting<'h, S, K, P> {
    hub: &'h Hub<S, K, P>,
    trusted: Arc<Trusted>,
    branches: BTreeMap<LogId, Branch>,
    partings: BTreeMap<LogId, Option<Seq>>,
}

impl<'h, S, K, P> Counting<'h, S, K, P>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    /// Begins.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn at(hub: &'h Hub<S, K, P>) -> Result<Counting<'h, S, K, P>, Error> {
        Ok(Counting {
            hub,
            trusted: hub.trusted().await?,
            branches: BTreeMap::new(),
            partings: BTreeMap::new(),
        })
    }

    /// Returns what an entry that is held is worth.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn standing(&mut self, id: &EntryId) -> Result<Standing, Error> {
        let leads = match self.trusted.trust().revoked(id.log).flatten() {
            Some(last) if id.seq <= last.seq => {
                if !self.branches.contains_key(&id.log) {
                    let branch = Branch::down_from(&self.hub.store, id.log, last.seq, last.payload).await?;
                    self.branches.insert(id.log, branch);
                }
                self.branches.get(&id.log).is_some_and(|branch| branch.goes_through(id))
            }
            _ => false,
        };
        let parting = match self.trusted.trust().revoked(id.log) {
            None => self.parting(id.log).await?,
            Some(_) => None,
        };
        Ok(self.trusted.trust().standing(id, parting, |_, _| leads))
    }

    /// Where a log parts, if it is forked.
    async fn parting(&mut self, log: LogId) -> Result<Option<Seq>, Error> {
        if let Some(parting) = self.partings.get(&log) {
            return Ok(*parting);
        }
        let parting = self.hub.store.runs(&[log]).await?.get(&log).and_then(Runs::parting);
        self.partings.insert(log, parting);
        Ok(parting)
    }
}

/// Returns what one entry that is held is worth here.
///
/// # Errors
///
/// What the store says.
pub async fn standing<S, K, P>(hub: &Hub<S, K, P>, id: &EntryId) -> Result<Standing, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    Counting::at(hub).await?.standing(id).await
}

/// Returns the word for it.
#[must_use]
pub fn word(standing: Standing) -> &'static str {
    match standing {
        Standing::Counts => "counts",
        Standing::Adopted => "adopted",
        Standing::Parked => "parked",
        Standing::AfterRevocation => "after_revocation",
        Standing::Forked => "forked",
    }
}

/// Returns what it means, for a person; one line without a stop.
#[must_use]
pub fn said(standing: Standing) -> &'static str {
    match standing {
        Standing::Counts => "counts",
        Standing::Adopted => "was adopted and counts",
        Standing::Parked => "counts in nothing: nobody certified its phone",
        Standing::AfterRevocation => {
            "counts in nothing: signed after its phone was revoked, or on another branch"
        }
        Standing::Forked => {
            "counts in nothing yet: its log is forked from there or before, and nobody has decided"
        }
    }
}
