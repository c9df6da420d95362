//! Photos as evidence: each is kept as it came, signed where it was taken as an observation of its own, and named by the
//! visit through that observation's hash.
//!
//! The file goes to the storage first and its observation after: a cut between the two leaves a photo that nothing names,
//! never a record of a photo that is not there.

use bodies::{OBSERVATION, OBSERVATION_VERSION, Observation, Observed, Photo};
use record::PayloadHash;
use tagcode::photo;

use crate::counted::counted;
use crate::view::VisitView;
use crate::{Error, Phone, signing};

/// The most photos of one visit.
const MOST_PHOTOS: u32 = 60;

impl Phone {
    /// Puts a photo to a visit that is open. The same photo again changes nothing.
    ///
    /// # Errors
    ///
    /// [`Error::NotAPhoto`], [`Error::Photo`] for one that is too large or damaged, [`Error::TooManyPhotos`], [`Error::NoTechnician`],
    /// [`Error::Key`], and what the upload and the store say. The visit is then as it was.
    pub fn photo_add(&self, id: &str, upload: &str) -> Result<VisitView, Error> {
        let _changing = self.changing();
        let draft = self.kept_draft(id)?;
        let technician = self.signatory()?;
        let bytes = self.take_upload(upload)?;
        // Read once as a whole: a photo that cannot be looked at is no evidence.
        let media_type = media(&bytes).ok_or(Error::NotAPhoto)?;
        drop(photo::decode(&bytes)?);
        let there = self.store().photos_made_for(id)?;
        if there.len() >= MOST_PHOTOS as usize {
            return Err(Error::TooManyPhotos { most: MOST_PHOTOS });
        }
        let hash = self.store().keep_photo(&bytes, media_type)?;
        if !there.contains(&hash) {
            let photo = Photo { hash, length: bytes.len() as u64, media_type: media_type.to_owned() };
            let observation = Observation {
                app: signing::APP.to_owned(),
                technician,
                tag: draft.tag,
                what: Observed::Photo,
                photo: Some(photo),
                readings: Vec::new(),
                note: String::new(),
                made_for: id.to_owned(),
            };
            self.append((OBSERVATION, OBSERVATION_VERSION), &observation.encode()?)?;
        }
        self.shown(&self.kept_draft(id)?)
    }

    /// Returns how many photos a visit that is open has.
    pub(crate) fn photos_of_draft(&self, id: &str) -> Result<usize, Error> {
        Ok(self.store().photos_made_for(id)?.len())
    }

    /// Returns the observations that were made for a visit, in their order, as the visit names them.
    pub(crate) fn observations_for(&self, id: &str) -> Result<Vec<PayloadHash>, Error> {
        if self.store().photos_made_for(id)?.is_empty() {
            return Ok(Vec::new());
        }
        let own = self.store().own_logs()?;
        let mut made = Vec::new();
        for kept in self.store().of_kind(store::Kind(u64::from(OBSERVATION.0)))? {
            let entry = record::open(&kept.entry.bytes)?;
            let is_own = own.contains(&kept.entry.place.log);
            if is_own && Observation::of_entry(&entry).is_ok_and(|observation| observation.made_for == id) {
                made.push(entry.id.payload);
            }
        }
        Ok(made)
    }
}

/// Returns what the file is, by how it begins; none for what is not taken here.
fn media(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0xff, 0xd8, 0xff, ..] => Some("image/jpeg"),
        [0x89, b'P', b'N', b'G', ..] => Some("image/png"),
        _ => None,
    }
}

/// Returns how many photos there are, in words.
pub(crate) fn said(photos: usize) -> String {
    if photos == 0 { String::new() } else { counted(photos, "photo") }
}
