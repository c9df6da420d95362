//! The hub as one process has it: its store, its key, whom it trusts.

use std::sync::Arc;

use hubstore::{HubStore, Identity};
use record::{PublicKey, SecretKey, Signer, Strict};
use tokio::sync::Mutex;

use crate::Error;
use crate::clock::Clock;
use crate::settling::settle;
use crate::trusted::Trusted;

/// What signs for the hub, and what says whether others' signatures hold. Simulations bring a cheap pair.
#[derive(Debug, Clone)]
pub struct Signing<K, P> {
    /// The hub's key.
    pub key: K,
    /// How signatures are checked.
    pub proof: P,
}

/// A hub.
#[derive(Debug)]
pub struct Hub<S, K = SecretKey, P = Strict> {
    /// What it keeps.
    pub store: S,
    /// What signs.
    pub signing: Signing<K, P>,
    /// Which hub it is.
    pub identity: Identity,
    /// Its clock.
    pub clock: Clock,
    organisation: PublicKey,
    trusted: Mutex<Arc<Trusted>>,
}

impl<S, K, P> Hub<S, K, P>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    /// Opens a hub, and brings its lists in line with its ledger where a cut came between the two.
    ///
    /// # Errors
    ///
    /// When the store holds no hub, or the one of another key.
    pub async fn open(store: S, signing: Signing<K, P>, clock: Clock) -> Result<Hub<S, K, P>, Error> {
        let not_this = |why: &str| Error::OtherForm { what: "The hub's database", why: why.into() };
        let identity = store.identity().await?.ok_or_else(|| not_this("it holds no hub yet"))?;
        if identity.log != signing.key.public().log() {
            return Err(not_this(
                "it is of a hub with another key; a restored hub has its own key in its own folder",
            ));
        }
        let organisation = PublicKey::from_cose(&identity.organisation)?;
        let mut trusted = Trusted::rooted_in(&organisation);
        trusted.catch_up(&store).await?;
        let hub =
            Hub { store, signing, identity, clock, organisation, trusted: Mutex::new(Arc::new(trusted)) };
        settle(&hub).await?;
        Ok(hub)
    }

    /// Returns the organisation's key.
    #[must_use]
    pub fn organisation(&self) -> &PublicKey {
        &self.organisation
    }

    /// Returns whom the hub trusts now, other processes' entries included.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn trusted(&self) -> Result<Arc<Trusted>, Error> {
        let mut trusted = self.trusted.lock().await;
        if trusted.is_behind(&self.store).await? {
            Arc::make_mut(&mut trusted).catch_up(&self.store).await?;
        }
        Ok(Arc::clone(&trusted))
    }

    /// Returns the moment as the store keeps it.
    #[must_use]
    pub fn now(&self) -> hubstore::Moment {
        hubstore::Moment(self.clock.now().0)
    }
}
