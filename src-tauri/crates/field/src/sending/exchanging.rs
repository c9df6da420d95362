//! What a carrier needs of the phone: its ledger, its key, and the way to its hub.

use record::SecretKey;
use store::Store;

use crate::{Error, Phone, identity, salvaged};

/// The way to the hub.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// Where it may be reached, the one to try first in front.
    pub addresses: Vec<String>,
    /// SHA-256 of the public keys that its server may show: by the organisation's certificates where they are here, as
    /// enrolment gave them until then.
    pub pins: Vec<[u8; 32]>,
}

impl Phone {
    /// Returns the way to the hub; none where the phone belongs to none, or sending is paused.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn way_to_hub(&self) -> Result<Option<Way>, Error> {
        if self.store().allowed()?.paused {
            return Ok(None);
        }
        let Some(hub) = self.store().hub()? else { return Ok(None) };
        let trust = exchange::session::Ledger::trust(self.store())?;
        let trusted = trust.hubs().filter(|(log, _)| trust.revoked(*log).is_none());
        let mut pins: Vec<[u8; 32]> = trusted.flat_map(|(_, hub)| hub.tls.iter().map(|key| key.0)).collect();
        if pins.is_empty() {
            pins.clone_from(&hub.pins);
        }
        pins.sort_unstable();
        pins.dedup();
        Ok(Some(Way { addresses: hub.addresses, pins }))
    }

    /// Returns what is kept, as an exchange needs it.
    #[must_use]
    pub fn ledger(&self) -> &Store {
        self.store()
    }

    /// Returns the key that proves who asks.
    ///
    /// # Errors
    ///
    /// [`Error::Key`], and what the store says.
    pub fn exchange_key(&self) -> Result<SecretKey, Error> {
        identity::signer(self.store(), self.ports())
    }

    /// Returns the photos that wait to be sent, by hash and length, in the order in which they were taken.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn photos_to_send(&self) -> Result<Vec<([u8; 32], u64)>, Error> {
        Ok(self.store().photos_to_send()?.into_iter().map(|(photo, length)| (photo.0, length)).collect())
    }

    /// Returns the piece of a photo from a place on; none where the photo is not here any more.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn photo_piece(&self, photo: [u8; 32], at: u64) -> Result<Option<Vec<u8>>, Error> {
        match self.store().photo_piece(bodies::PhotoHash(photo), at) {
            Err(store::Error::NoPhoto) => Ok(None),
            other => Ok(Some(other?)),
        }
    }

    /// What came may have changed the register, what is pending, which visits are here and who is called what.
    pub fn exchanged(&self) {
        salvaged::list_returned(self.store());
        self.forget_pending();
        if let Err(error) = self.follow_people() {
            tracing::warn!(%error, "names that the hub erased could not be erased here; it is tried after the next exchange");
        }
    }
}
