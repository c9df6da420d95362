//! What the hub's people decided about what this phone signed: visits that come back, proposals that were declined.
//!
//! Read from the reviews that came, when the app starts and after each exchange. Only a hub's word counts, and of several
//! the last one; `exchange` says which.

use std::collections::BTreeMap;

use bodies::{Decision, REVIEW};
use domain::visit::Moment;
use exchange::decided::{Decided, Decisions};
use exchange::intake::Arrived;
use exchange::session::Ledger;
use exchange::trust::Trust;
use record::EntryId;
use store::{Arrival, Place, SignedVisit, TagKey};
use tagcode::safe_text;

use crate::message::saying;
use crate::view::{AnswerLine, Grade, Message};
use crate::{Error, Phone, records, when};

/// The most of a note that is shown, in letters.
const MOST_NOTE: usize = 4_000;

/// What was decided.
pub(crate) struct Reviewed {
    decisions: Decisions,
    trust: Trust,
    /// When each review came here.
    came: BTreeMap<EntryId, Arrival>,
    /// What was decided on, by its place.
    places: BTreeMap<Place, EntryId>,
    /// Why it could not be read.
    unread: Option<String>,
}

impl Reviewed {
    /// Returns what was decided about an entry.
    pub(crate) fn about(&self, subject: &EntryId) -> Option<&Decided> {
        self.decisions.about(subject, &self.trust)
    }

    fn at(&self, place: Place) -> Option<&Decided> {
        self.about(self.places.get(&place)?)
    }

    /// Returns when a decision came here.
    pub(crate) fn came(&self, decided: &Decided) -> Option<Arrival> {
        self.came.get(&decided.review).copied()
    }
}

impl Phone {
    /// Reads what was decided. Where that is not as it was written nothing is known to be decided, and the first screen
    /// says so; the register and the visits do not wait for it.
    pub(crate) fn read_reviewed(&self) -> Result<Reviewed, Error> {
        match self.read_reviews() {
            Err(Error::Store(store::Error::Unreadable { what })) => {
                let trust = Trust::rooted_in(record::LogId([0; 32]));
                let (decisions, came, places) = Default::default();
                Ok(Reviewed { decisions, trust, came, places, unread: Some(what) })
            }
            other => other,
        }
    }

    fn read_reviews(&self) -> Result<Reviewed, Error> {
        let trust = Ledger::trust(self.store())?;
        let (mut decisions, mut came) = (Decisions::default(), BTreeMap::new());
        for kept in self.store().of_kind(store::Kind(u64::from(REVIEW.0)))? {
            let Ok(entry) = record::open(&kept.entry.bytes) else { continue };
            came.insert(entry.id, kept.arrival);
            decisions.learn(&[Arrived::of(&entry)]);
        }
        let place = |id: &EntryId| Place { log: store::LogId::of(id.log), seq: store::Seq::of(id.seq) };
        let places = decisions.subjects().map(|id| (place(id), *id)).collect();
        Ok(Reviewed { decisions, trust, came, places, unread: None })
    }

    /// Returns what a record's page says of the decision about it.
    pub(crate) fn decision_about(&self, subject: &EntryId) -> Result<Option<Message>, Error> {
        let reviewed = self.reviewed()?;
        let Some(decided) = reviewed.about(subject) else { return Ok(None) };
        let said = self.said_by(decided)?;
        Ok(match decided.decision {
            Decision::Returned => Some(saying("review.returned", Grade::Warning, &said, RETURNED)),
            Decision::Approved => Some(saying("review.approved", Grade::Note, &said, "")),
            _ => None,
        })
    }

    /// Returns the decision about a visit in a word or a line, for lists.
    pub(crate) fn decision_at(&self, place: Place) -> Result<String, Error> {
        let reviewed = self.reviewed()?;
        Ok(match reviewed.at(place) {
            Some(decided) if decided.decision == Decision::Returned => {
                format!("Returned: {}", whole(&decided.note))
            }
            Some(decided) if decided.decision == Decision::Approved => "Approved".to_owned(),
            _ => String::new(),
        })
    }

    /// Returns what the supervisor wants looked at: visits that were returned and proposals that were declined, the
    /// newest first. A visit signed at the instrument since then has answered it.
    pub(crate) fn answers(&self) -> Result<Vec<AnswerLine>, Error> {
        let reviewed = self.reviewed()?;
        if let Some(what) = &reviewed.unread {
            return Err(store::Error::Unreadable { what: what.clone() }.into());
        }
        let mut all: Vec<(Arrival, AnswerLine)> = Vec::new();
        for place in reviewed.places.keys() {
            let returned = reviewed.at(*place).filter(|decided| decided.decision == Decision::Returned);
            let Some((decided, visit)) = returned.zip(self.store().signed_at(*place)?) else { continue };
            if let Some(came) = self.unanswered(reviewed.came(decided), &visit.tag_key)? {
                all.push((came, self.returned(decided, &visit)?));
            }
        }
        for declined in self.pending()?.declined() {
            if let Some(came) = self.unanswered(reviewed.came(&declined.decided), &declined.key)? {
                let (tag, record) = (declined.tag.clone(), String::new());
                let message = self.declined(declined)?;
                all.push((
                    came,
                    AnswerLine { tag, service: String::new(), site: String::new(), record, message },
                ));
            }
        }
        all.sort_by_key(|(came, _)| std::cmp::Reverse(*came));
        Ok(all.into_iter().map(|(_, line)| line).collect())
    }

    /// Returns when a review came, unless a visit to the instrument was signed since.
    pub(crate) fn unanswered(&self, came: Option<Arrival>, key: &TagKey) -> Result<Option<Arrival>, Error> {
        let newest = self.store().signed_of(key, 1)?.into_iter().next();
        let signed = newest.map(|visit| self.store().entry(visit.place)).transpose()?.flatten();
        Ok(came.filter(|came| signed.is_none_or(|kept| kept.arrival < *came)))
    }

    fn returned(&self, decided: &Decided, visit: &SignedVisit) -> Result<AnswerLine, Error> {
        let said = self.said_by(decided)?;
        Ok(AnswerLine {
            tag: visit.tag.clone(),
            service: visit.service.clone(),
            site: visit.site.clone(),
            record: records::id(visit.place),
            message: saying("review.returned", Grade::Warning, &said, RETURNED),
        })
    }

    /// Returns the decision, who made it and when, and the words it was made with.
    pub(crate) fn said_by(&self, decided: &Decided) -> Result<String, Error> {
        let word = match decided.decision {
            Decision::Approved => "Approved",
            Decision::Returned => "Returned",
            Decision::Declined => "Declined",
            Decision::Accepted => "Accepted",
            Decision::Adopted => "Adopted",
        };
        let by = self.known_name(decided.person)?.unwrap_or_else(|| "the supervisor".to_owned());
        let when = when::day_and_minute(Moment(decided.claimed.millis), self.now().offset_minutes);
        let words = whole(&decided.note);
        Ok(if words.is_empty() {
            format!("{word} by {by}, {when}.")
        } else {
            format!("{word} by {by}, {when}: \u{201c}{words}\u{201d}")
        })
    }
}

/// What a person does with a visit that came back.
const RETURNED: &str =
    "This record stays as it was signed. Go to the instrument again, or answer with another visit.";

/// Returns all that was written, on one line, with what would hide or turn made visible.
fn whole(note: &str) -> String {
    // A single text is cut where a code would be; a person's words are not.
    const PIECE: usize = 100;
    let letters: Vec<char> = note.trim().chars().take(MOST_NOTE).collect();
    let lines = letters.split(|letter| matches!(letter, '\n' | '\r')).filter(|line| !line.is_empty());
    let shown = lines.map(|line| {
        let pieces = line.chunks(PIECE).map(|piece| safe_text(&piece.iter().collect::<String>()));
        pieces.collect::<String>()
    });
    shown.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn a_note_is_shown_whole_on_one_line_with_nothing_hidden() {
        let long = "dip once more, and take the tape that was due; ".repeat(20);
        assert_eq!(whole(&long), long.trim());
        assert_eq!(whole(" No photo.\r\nTake one.\u{202e} "), "No photo. Take one.\u{27e8}202E\u{27e9}");
        assert_eq!(whole(&"x".repeat(9_000)).len(), 4_000);
    }
}
