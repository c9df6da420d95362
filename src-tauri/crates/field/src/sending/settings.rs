//! What the person allows the exchange.

use store::Allowed;

use crate::view::Network;
use crate::{Error, Phone};

impl Phone {
    /// Keeps whether photos may go where a connection is paid by volume.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn allow_metered(&self, photos_metered: bool) -> Result<(), Error> {
        let allowed = self.store().allowed()?;
        Ok(self.store().allow(Allowed { photos_metered, ..allowed })?)
    }

    /// Pauses sending, or lets it go on.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn pause_sending(&self, paused: bool) -> Result<(), Error> {
        let allowed = self.store().allowed()?;
        Ok(self.store().allow(Allowed { paused, ..allowed })?)
    }

    /// Returns whether photos may go over a connection of this kind. One that the platform says nothing of may be paid
    /// by volume.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn photos_may_go(&self, network: Network) -> Result<bool, Error> {
        Ok(match network {
            Network::None => false,
            Network::Unmetered => true,
            Network::Metered | Network::Unknown => self.store().allowed()?.photos_metered,
        })
    }
}
