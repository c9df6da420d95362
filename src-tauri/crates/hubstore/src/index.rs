//! What the store has to know of an entry to find it again: read from its body once, when it comes.

use bodies::{
    AMENDMENT, Amendment, CERTIFICATE, CHANGE, Change, ChangeMade, OBSERVATION, Observation, RECEIPT, REVIEW,
    REVOCATION, Receipt, Review, VISIT,
};
use record::{Entry, EntryId, Kind, LogId, PayloadHash};

use crate::photo_name::photo_name;
use crate::visit_line::{brief, line};
use crate::{Citation, Cited, Error, VisitLine};

/// What a receipt is filed under: the newest of each counts.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Receipted {
    /// The log that it is about.
    pub log: LogId,
    /// Its grade, as a word; of one that names photos alone, with the first of them behind it.
    pub grade: String,
}

/// What an entry is found by. Empty for what this program cannot read: such an entry is kept and passed on all the same.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Index {
    /// The line of a visit.
    pub visit: Option<VisitLine>,
    /// Logs whose owner has to hear of it, beside everyone.
    pub concerns: Vec<LogId>,
    /// Whether everyone has to hear of it: certificates, who confirmed a phone, and revocations.
    pub everyone: bool,
    /// What a receipt is filed under.
    pub receipt: Option<Receipted>,
    /// Photos that it cites.
    pub photos: Vec<Cited>,
}

/// An entry to be taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// Its identity.
    pub id: EntryId,
    /// The payload before it.
    pub previous: Option<PayloadHash>,
    /// What it is.
    pub kind: Kind,
    /// All of it, exactly as it arrived.
    pub bytes: Vec<u8>,
    /// What it is found by.
    pub index: Index,
}

impl NewEntry {
    /// Takes up an entry that was opened; that it was also verified is the caller's.
    #[must_use]
    pub fn of(entry: &Entry<'_>) -> NewEntry {
        NewEntry {
            id: entry.id,
            previous: entry.header.previous,
            kind: entry.header.kind,
            bytes: entry.bytes.to_vec(),
            index: Index::of(entry),
        }
    }

    /// Takes up an entry that was kept.
    pub(crate) fn kept(bytes: &[u8]) -> Result<NewEntry, Error> {
        Ok(NewEntry::of(&record::open(bytes).map_err(Error::unreadable)?))
    }
}

/// Reads what a kept entry says of the photo that it cites; none where it cites none.
pub(crate) fn citation(bytes: &[u8]) -> Result<Option<Citation>, Error> {
    let entry = record::open(bytes).map_err(Error::unreadable)?;
    let seen = Observation::of_entry(&entry).ok();
    Ok(seen.and_then(|seen| {
        let length = seen.photo?.length;
        Some(Citation { log: entry.id.log, length, tag: seen.tag })
    }))
}

impl Index {
    /// Reads what an entry is found by.
    #[must_use]
    pub fn of(entry: &Entry<'_>) -> Index {
        match entry.header.kind {
            VISIT => Index { visit: line(entry), ..Index::default() },
            OBSERVATION => {
                Observation::of_entry(entry).map(|seen| Index::of_observation(&seen)).unwrap_or_default()
            }
            AMENDMENT => {
                Amendment::of_entry(entry).map(|made| Index::about(entry, made.subject)).unwrap_or_default()
            }
            REVIEW => {
                Review::of_entry(entry).map(|made| Index::about(entry, made.subject)).unwrap_or_default()
            }
            RECEIPT => Receipt::of_entry(entry).map(|given| Index::of_receipt(&given)).unwrap_or_default(),
            CERTIFICATE | REVOCATION => Index { everyone: true, ..Index::default() },
            // With the certificate beside it, so that a hub that lost both gets both back.
            CHANGE => {
                let made = Change::of_entry(entry).map(|change| change.made);
                Index { everyone: matches!(made, Ok(ChangeMade::PhoneConfirmed(_))), ..Index::default() }
            }
            _ => Index::default(),
        }
    }

    /// The owner of a log need not hear of what stands in that log itself.
    fn about(entry: &Entry<'_>, subject: EntryId) -> Index {
        let concerns = if subject.log == entry.id.log { Vec::new() } else { vec![subject.log] };
        Index { concerns, ..Index::default() }
    }

    fn of_receipt(receipt: &Receipt) -> Index {
        let grade = match receipt.photos.first() {
            // Filed by itself: it stands beside the newest and beside the others like it.
            Some(first) if receipt.names_photos_alone() => {
                format!("{} {}", receipt.grade.word(), photo_name(*first))
            }
            _ => receipt.grade.word().to_owned(),
        };
        let filed = Receipted { log: receipt.log, grade };
        Index { receipt: Some(filed), ..Index::default() }
    }

    fn of_observation(observation: &Observation) -> Index {
        let cited = observation.photo.as_ref().map(|photo| Cited {
            photo: photo.hash,
            length: photo.length,
            media: brief(&photo.media_type),
        });
        Index { photos: cited.into_iter().collect(), ..Index::default() }
    }
}
