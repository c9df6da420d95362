//! The screen on which a phone is made to belong to a hub.

use crate::view::{EnrolStage, EnrolView};
use crate::{Error, Kept, Phone, sending};

impl Phone {
    /// Returns the screen.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn enrol_view(&self) -> Result<EnrolView, Error> {
        let key = self.key_words()?.to_owned();
        if let Some(pending) = self.pending_enrolment()? {
            return Ok(EnrolView {
                stage: EnrolStage::Waiting,
                hub: sending::host(&pending.address).to_owned(),
                digits: pending.digits,
                says: "Tell the supervisor these six digits. The hub shows them too; the phone is confirmed only \
                       if they are the same."
                    .to_owned(),
                remedy: "If the hub shows other digits, do not go on: give up here and scan a new code.".to_owned(),
                key,
            });
        }
        if let Some(hub) = self.store().hub()? {
            let address = hub.addresses.first().map_or("", String::as_str);
            return Ok(EnrolView {
                stage: EnrolStage::Enrolled,
                hub: sending::host(address).to_owned(),
                digits: String::new(),
                says: "This phone belongs to a hub. Records go there by themselves when there is signal."
                    .to_owned(),
                remedy: "To belong to another hub, scan its code. Records stay on this phone either way."
                    .to_owned(),
                key,
            });
        }
        Ok(EnrolView {
            stage: EnrolStage::Begin,
            hub: String::new(),
            digits: String::new(),
            says: "This phone belongs to no hub yet. Records stay on this phone until it does.".to_owned(),
            remedy:
                "Have the supervisor make a code on the hub, and scan it within ten minutes. It is good once."
                    .to_owned(),
            key,
        })
    }

    /// Says how the key is kept that a supervisor is about to vouch for.
    fn key_words(&self) -> Result<&'static str, Error> {
        let identity = self.store().identity()?;
        Ok(match identity.map(|identity| self.ports().keys.kept(&identity.sealed_key)) {
            Some(Kept::Sealed) => "The key that signs records is sealed by this phone's own key store.",
            Some(Kept::InAFile) => {
                "The key that signs records lies in a private file on this device: a copy of all its files could sign \
                 too."
            }
            None => "",
        })
    }
}
