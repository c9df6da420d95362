//! Photos of a phone: taken, sent in their lane, freed.

use anyhow::{Context, Result, ensure};
use bodies::{
    Confirmed, OBSERVATION, OBSERVATION_VERSION, Observation, Observed, PersonId, Photo, PhotoHash,
    Technician,
};
use carry::photos::{AtHub, Carried, KeptBy, PhotoLink, carry as carry_photos};
use carry::{LinkError, Progress};
use record::EntryId;

use crate::{Phone, Proxy, writing};

/// What came of the lane of photos.
pub type PhotosSent = Result<Carried, carry::Error<field::Error>>;

impl Phone {
    /// Takes a picture and signs an observation of it. Nobody looks at it here, so any bytes will do.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn photograph(&self, bytes: &[u8]) -> Result<(PhotoHash, EntryId)> {
        let hash = self.store().keep_photo(bytes, "image/jpeg")?;
        let observation = Observation {
            app: String::new(),
            technician: Technician { person: PersonId([7; 16]), confirmed: Confirmed::None },
            tag: "LT-2041".into(),
            what: Observed::Photo,
            photo: Some(Photo { hash, length: bytes.len() as u64, media_type: "image/jpeg".into() }),
            readings: Vec::new(),
            note: String::new(),
            made_for: String::new(),
        };
        let key = self.core().phone().exchange_key()?;
        let kind = (OBSERVATION, OBSERVATION_VERSION);
        Ok((hash, writing::write(self.store(), &key, kind, &observation.encode()?)?))
    }

    /// Brings the photos that wait to whatever the proxy leads to, in pieces, as the app does.
    ///
    /// # Errors
    ///
    /// Why it broke off.
    pub fn send_photos(&self, by: &Proxy) -> PhotosSent {
        let client = self.client(&by.at().to_string()).map_err(of_link)?;
        let phone = self.core().phone();
        let kept =
            KeptBy { waiting: || phone.photos_to_send(), piece: |photo, at| phone.photo_piece(photo, at) };
        carry_photos(&kept, &client, &crate::phone::Quiet, &Progress::default())
    }

    /// Sends records, then photos, then asks for their receipts, as the app does; all has to go well.
    ///
    /// # Errors
    ///
    /// Why it broke off.
    pub fn send_all(&self, by: &Proxy) -> Result<Carried> {
        self.exchange(by)?;
        let carried = self.send_photos(by)?;
        ensure!(carried.refused.is_none(), "the hub refused a photo: {:?}", carried.refused);
        self.exchange(by)?;
        Ok(carried)
    }

    /// Asks the hub how much of a photo it has.
    ///
    /// # Errors
    ///
    /// Why it did not answer.
    pub fn photo_at_hub(&self, photo: PhotoHash, by: &Proxy) -> Result<AtHub> {
        let client = self.client(&by.at().to_string()).context("no way to the hub")?;
        Ok(client.held(photo.0)?)
    }
}

fn of_link(error: LinkError) -> carry::Error<field::Error> {
    carry::Error::Link(error)
}
