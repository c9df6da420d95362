//! What was decided about visits and proposals: of all reviews of an entry the one that holds.
//!
//! Only a hub's word counts. Of several the last of the newest hub holds; what a hub said before it was restored stands
//! behind what the restored one says, whichever came first. No clock orders them. Adoptions are [`crate::trust`]'s.

use std::collections::BTreeMap;

use bodies::{Decision, PersonId, REVIEW, Review};
use record::{Claimed, EntryId};

use crate::intake::Arrived;
use crate::trust::Trust;

/// A decision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decided {
    /// The review that says it.
    pub review: EntryId,
    /// What was decided; never an adoption.
    pub decision: Decision,
    /// What was said to it.
    pub note: String,
    /// Who decided.
    pub person: PersonId,
    /// When, as the hub's clock claimed.
    pub claimed: Claimed,
}

/// All reviews that came, by what they are about.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Decisions(BTreeMap<EntryId, Vec<Decided>>);

impl Decisions {
    /// Learns what verified entries say; other kinds, and what cannot be read, say nothing here.
    pub fn learn<'e>(&mut self, entries: impl IntoIterator<Item = &'e Arrived>) {
        for arrived in entries.into_iter().filter(|arrived| arrived.kind == REVIEW) {
            let Some((subject, decided)) = read(arrived) else { continue };
            let of_subject = self.0.entry(subject).or_default();
            if !of_subject.contains(&decided) {
                of_subject.push(decided);
            }
        }
    }

    /// Returns the entries about which something was said.
    pub fn subjects(&self) -> impl Iterator<Item = &EntryId> {
        self.0.keys()
    }

    /// Returns the decision about an entry that holds, as far as these hubs are trusted.
    #[must_use]
    pub fn about(&self, subject: &EntryId, trust: &Trust) -> Option<&Decided> {
        let said = self.0.get(subject)?.iter().filter(|decided| trust.is_hubs_word(&decided.review));
        said.max_by_key(|decided| (trust.generation(decided.review.log), decided.review))
    }
}

fn read(arrived: &Arrived) -> Option<(EntryId, Decided)> {
    let entry = record::open(&arrived.bytes).ok()?;
    let Review { subject, decision, note, person } = Review::of_entry(&entry).ok()?;
    let claimed = entry.header.claimed;
    let decided = Decided { review: arrived.id, decision, note, person, claimed };
    (decision != Decision::Adopted).then_some((subject, decided))
}

#[cfg(test)]
mod tests {
    use bodies::{Certified, Epoch};
    use record::{LogId, PayloadHash, Seq};

    use super::*;
    use crate::who::{Who, at};

    fn hub(epoch: u8, replaces: Option<LogId>) -> Certified {
        Certified::Hub { tls: Vec::new(), epoch: Epoch([epoch; 16]), replaces }
    }

    fn decides(who: &mut Who, decision: Decision, note: &str) -> Arrived {
        let review = Review { subject: subject(), decision, note: note.into(), person: PersonId([5; 16]) };
        who.says(REVIEW, &review.encode().unwrap())
    }

    fn subject() -> EntryId {
        EntryId { log: LogId([7; 32]), seq: Seq::FIRST, payload: PayloadHash([8; 32]) }
    }

    fn holds(trust: &Trust, reviews: &[&Arrived]) -> Option<(Decision, String)> {
        let (mut forth, mut back) = (Decisions::default(), Decisions::default());
        forth.learn(reviews.iter().copied());
        back.learn(reviews.iter().rev().copied());
        let of = |all: &Decisions| all.about(&subject(), trust).cloned();
        assert_eq!(of(&forth), of(&back), "the order in which they came says nothing");
        of(&forth).map(|decided| (decided.decision, decided.note))
    }

    #[test]
    fn the_last_word_of_the_newest_hub_holds_and_nobody_elses() {
        // The new hub's log is the lower of the two, so that only the succession can tell them apart.
        let (mut one, mut other) = (Who::number(11), Who::number(12));
        if one.log() < other.log() {
            std::mem::swap(&mut one, &mut other);
        }
        let (mut root, mut old, mut new, mut phone) = (Who::number(1), one, other, Who::number(21));
        let mut trust = Trust::rooted_in(root.log());
        trust.learn(&[root.certifies(&old, hub(1, None)), root.certifies(&new, hub(2, Some(old.log())))]);
        let stranger = decides(&mut phone, Decision::Accepted, "mine");
        assert_eq!(holds(&trust, &[&stranger]), None);
        let first = decides(&mut old, Decision::Returned, "dip again");
        let second = decides(&mut old, Decision::Approved, "");
        assert_eq!(holds(&trust, &[&first, &second, &stranger]), Some((Decision::Approved, String::new())));
        let adopted = decides(&mut new, Decision::Adopted, "");
        let third = decides(&mut new, Decision::Returned, "no photo");
        let said = Some((Decision::Returned, "no photo".to_owned()));
        assert_eq!(holds(&trust, &[&first, &second, &third, &adopted, &stranger]), said);
    }

    #[test]
    fn what_a_revoked_hub_said_behind_its_last_place_does_not_hold() {
        let (mut root, mut one) = (Who::number(1), Who::number(11));
        let mut trust = Trust::rooted_in(root.log());
        trust.learn(&[root.certifies(&one, hub(1, None))]);
        let honest = decides(&mut one, Decision::Declined, "LT-3108's");
        let forged = decides(&mut one, Decision::Accepted, "");
        assert_eq!(holds(&trust, &[&honest, &forged]).unwrap().0, Decision::Accepted);
        trust.learn(&[root.revokes(&one, at(&honest))]);
        assert_eq!(holds(&trust, &[&honest, &forged]).unwrap().0, Decision::Declined);
    }
}
