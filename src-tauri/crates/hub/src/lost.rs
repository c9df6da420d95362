//! Photos that the hub called whole and whose bytes are gone or spoilt. They are asked for again: the next receipts leave them
//! out, and a phone that still has one brings it. Nobody who freed one is left to find that out alone: what is said names the
//! photo, the instrument and the phone, and whether the phone may have freed it.

use std::collections::BTreeSet;
use std::fmt;

use bodies::{Grade, PhotoHash, Receipt};
use hubstore::{HubStore, PhotoStore, photo_name};
use record::LogId;

use crate::Error;
use crate::exchange::read_receipt;
use crate::names::hex;

/// A photo that is lost or spoilt, for whoever looks after the hub.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lost {
    /// The photo.
    pub photo: PhotoHash,
    /// The instruments that it was taken of, by their tags.
    pub tags: BTreeSet<String>,
    /// What the phones that cite it are called, or their logs where they have no name here.
    pub phones: BTreeSet<String>,
    /// Whether a phone was told that it is in a backup.
    pub may_be_freed: bool,
}

impl Lost {
    /// Finds what is known of a photo.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn of(store: &impl HubStore, photo: PhotoHash) -> Result<Lost, Error> {
        let mut lost = Lost { photo, tags: BTreeSet::new(), phones: BTreeSet::new(), may_be_freed: false };
        for citation in store.citations(photo).await? {
            lost.tags.extend(Some(citation.tag).filter(|tag| !tag.is_empty()));
            let device = store.device(citation.log).await?;
            lost.phones.insert(device.map_or_else(|| hex(&citation.log.0), |device| device.label));
            lost.may_be_freed |= was_backed_up(store, citation.log, photo).await?;
        }
        Ok(lost)
    }
}

async fn was_backed_up(store: &impl HubStore, log: LogId, photo: PhotoHash) -> Result<bool, Error> {
    let receipts = store.receipts(log).await?;
    let names = |receipt: Receipt| receipt.grade == Grade::BackedUp && receipt.photos.contains(&photo);
    Ok(receipts.iter().filter_map(read_receipt).any(names))
}

impl fmt::Display for Lost {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let list = |names: &BTreeSet<String>| names.iter().cloned().collect::<Vec<_>>().join(", ");
        write!(out, "Photo {}", photo_name(self.photo))?;
        if !self.tags.is_empty() {
            write!(out, " of {}", list(&self.tags))?;
        }
        write!(
            out,
            " is lost or spoilt here. It is asked for again: have phone {} send.",
            list(&self.phones)
        )?;
        if self.may_be_freed {
            write!(
                out,
                " The phone was told that it is in a backup and may have freed it. If it does not come, put its file \
                 from an earlier backup into the folder of photos, at the same place, and make a backup."
            )?;
        }
        Ok(())
    }
}

/// Has a photo asked for again that was found lost or spoilt, and returns what is to be said of it; nothing where its bytes
/// are sound after all, since a phone may have brought it meanwhile.
///
/// # Errors
///
/// What storage says; then nothing was changed. A store of photos that is not there itself has lost none.
pub async fn asked_again(
    store: &impl HubStore,
    photos: &PhotoStore,
    photo: PhotoHash,
) -> Result<Option<Lost>, Error> {
    photos.ready().await?;
    if photos.is_sound(photo).await? {
        return Ok(None);
    }
    store.went_missing(photo).await?;
    let lost = Lost::of(store, photo).await?;
    tracing::warn!(photo = photo_name(photo), tags = ?lost.tags, phones = ?lost.phones, "a photo is lost or spoilt; it is asked for again");
    Ok(Some(lost))
}

/// Takes up photos that are asked for and whose bytes lie in their place all the same, as when somebody put them back there.
/// Returns how many.
///
/// # Errors
///
/// What storage says.
pub async fn take_up(store: &impl HubStore, photos: &PhotoStore) -> Result<u64, Error> {
    let (mut after, mut found) = (None, 0);
    loop {
        let missing = store.missing_photos(after, AT_ONCE).await?;
        let Some(last) = missing.last() else { return Ok(found) };
        after = Some(last.photo);
        for photo in missing.iter().map(|cited| cited.photo) {
            if let Some(length) = photos.length(photo).await?
                && photos.is_sound(photo).await?
            {
                store.came_whole(photo, length).await?;
                found += 1;
            }
        }
    }
}

/// How many photos are looked for at once.
const AT_ONCE: u32 = 500;
