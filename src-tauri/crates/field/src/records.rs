//! Signed records: opened and checked each time they are shown.

use bodies::{Confirmed, Visit};
use domain::visit::Moment;
use record::{Entry, LogId};
use store::{Place, Seq};

use crate::identity::{from_hex, hex, public_key};
use crate::view::{Message, RecordView};
use crate::{Error, Phone, photos, sending, show, when};

/// What stands around a record that is shown.
pub(crate) struct Frame {
    /// Its id.
    pub(crate) id: String,
    /// When it was signed, by the phone's clock and in its local time then.
    pub(crate) when: String,
    /// Who signed it.
    pub(crate) technician: String,
    /// How the phone knew.
    pub(crate) confirmed: Confirmed,
    /// What checking it gave.
    pub(crate) proof: String,
    /// Its photos.
    pub(crate) photos: String,
    /// Where it is.
    pub(crate) whereabouts: String,
    /// What a supervisor decided about it.
    pub(crate) decision: Option<Message>,
}

impl Phone {
    /// Returns a record, its signature and its place in the chain checked just now.
    ///
    /// A record that can be read but does not hold is shown with what is wrong: hiding it would hide that.
    ///
    /// # Errors
    ///
    /// [`Error::NoRecord`], [`Error::Entry`] and [`Error::Body`] for what cannot be read, and what the store
    /// says.
    pub fn record(&self, id: &str) -> Result<RecordView, Error> {
        let place = place(id).ok_or(Error::NoRecord)?;
        let kept = self.kept_entry(place)?;
        let entry = record::open(&kept)?;
        let visit = Visit::of_entry(&entry)?;
        let claimed = entry.header.claimed;
        let state = self.store().visit_state(place)?.ok_or(Error::NoRecord)?;
        let frame = Frame {
            id: id.to_owned(),
            when: when::day_and_minute(Moment(claimed.millis), claimed.offset_minutes),
            technician: self.name_of(visit.technician.person)?,
            confirmed: visit.technician.confirmed,
            proof: match self.check(&entry) {
                Ok(()) => "Signature checked".to_owned(),
                Err(error) => error.to_string(),
            },
            photos: photos::said(usize::try_from(state.photos).unwrap_or(usize::MAX)),
            whereabouts: sending::whereabouts(&state),
            decision: self.decision_about(&entry.id)?,
        };
        Ok(show::record(frame, &visit.finished))
    }

    /// Returns the bytes of an entry.
    pub(crate) fn kept_entry(&self, place: Place) -> Result<Vec<u8>, Error> {
        Ok(self.store().entry(place)?.ok_or(Error::NoRecord)?.entry.bytes)
    }

    /// Checks who signed an entry and that it stands behind the one before it.
    fn check(&self, entry: &Entry<'_>) -> Result<(), Error> {
        record::verify(entry, &public_key(self.store(), entry.header.log)?)?;
        let Some(before) = entry.id.seq.get().checked_sub(1).filter(|seq| *seq > 0) else {
            return Ok(());
        };
        let log = store::LogId(entry.header.log.0);
        let before = self.kept_entry(Place { log, seq: Seq(before) })?;
        record::follows(&record::open(&before)?, entry)?;
        Ok(())
    }
}

/// Returns the id of a record: its log's name and its place in it.
pub(crate) fn id(place: Place) -> String {
    format!("{}-{}", hex(&place.log.0), place.seq)
}

/// Returns the place that an id names.
pub(crate) fn place(id: &str) -> Option<Place> {
    let (log, seq) = id.split_once('-')?;
    let log = LogId(from_hex(log)?.try_into().ok()?);
    let seq = record::Seq::new(seq.parse().ok()?)?;
    Some(Place { log: store::LogId(log.0), seq: Seq(seq.get()) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_names_one_place() {
        let place_of = Place { log: store::LogId([0xab; 32]), seq: Seq(12) };
        assert_eq!(place(&id(place_of)), Some(place_of));
        for wrong in ["", "12", "ab-12", &format!("{}-0", "ab".repeat(32)), &format!("{}-x", "ab".repeat(32))]
        {
            assert_eq!(place(wrong), None, "{wrong}");
        }
    }
}
