//! What a person at the hub decided about an entry.

use record::{EntryId, Kind};

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, read_subject, word, write_subject};
use crate::{Error, PersonId};

/// The kind of entry that holds a review.
pub const REVIEW: Kind = Kind(5);

/// The version of the review's body that is written here.
pub const REVIEW_VERSION: u32 = 1;

/// What was decided. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Decision {
    /// A visit is in order.
    Approved,
    /// A visit goes back, with what to look at again in the note.
    Returned,
    /// An entry of a log that is no longer trusted, or a branch of a fork, counts all the same.
    Adopted,
    /// A proposal goes into the register.
    Accepted,
    /// A proposal does not go into the register.
    Declined,
}

const DECISIONS: [Decision; 5] =
    [Decision::Approved, Decision::Returned, Decision::Adopted, Decision::Accepted, Decision::Declined];

impl Decision {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Decision::Approved => "approved",
            Decision::Returned => "returned",
            Decision::Adopted => "adopted",
            Decision::Accepted => "accepted",
            Decision::Declined => "declined",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Decision> {
        DECISIONS.into_iter().find(|decision| decision.word() == word)
    }
}

/// A review as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Review {
    /// The entry that was looked at.
    pub subject: EntryId,
    /// What was decided.
    pub decision: Decision,
    /// What is said to it.
    pub note: String,
    /// Who decided.
    pub person: PersonId,
}

mod key {
    pub(super) const SUBJECT: u64 = 1;
    pub(super) const DECISION: u64 = 2;
    pub(super) const NOTE: u64 = 3;
    pub(super) const PERSON: u64 = 4;
}

body_methods!(Review);

impl Body for Review {
    const KIND: Kind = REVIEW;
    const VERSION: u32 = REVIEW_VERSION;
    const NAME: &'static str = "review";
    const VERSIONED: &'static str = "review version";

    fn write(&self, map: &mut Map) -> Written {
        map.put(key::SUBJECT, |out| write_subject(out, &self.subject))?;
        map.put(key::DECISION, |out| Ok(out.str(self.decision.word())?.ok()?))?;
        map.texts(&[(key::NOTE, &self.note)])?;
        map.put(key::PERSON, |out| self.person.write(out))
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Review, Error> {
        Ok(Review {
            subject: map.need(key::SUBJECT, |from| read_subject(from, "review.subject"))?,
            decision: map.need(key::DECISION, |from| word(from, "review.decision", Decision::from_word))?,
            note: map.text(key::NOTE)?,
            person: map.need(key::PERSON, |from| PersonId::read(from, "review.person"))?,
        })
    }
}
