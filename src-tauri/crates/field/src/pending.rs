//! What this phone has proposed to the register: what is pending, and what was declined.
//!
//! The proposals are entries of the log; the store has a view of them, read when the app starts and after each new one.
//! A proposal is settled once the register that is loaded says the same, or a supervisor declined it; until then it holds
//! on this phone, shown as pending.

use bodies::{Decision, Proposed, UnitFitted};
use domain::visit::Instrument;
use exchange::decided::Decided;
use store::{OwnProposal, TagKey};
use tagcode::safe_text;

use crate::message::saying;
use crate::view::{Grade, Message};
use crate::{Error, Phone, tag};

/// The proposals on this phone, oldest first.
#[derive(Debug, Default)]
pub(crate) struct Pending {
    links: Vec<Link>,
    units: Vec<(TagKey, UnitFitted)>,
    declined: Vec<Declined>,
}

/// A code that was linked to an instrument.
#[derive(Debug)]
struct Link {
    code: String,
    key: TagKey,
    tag: String,
}

/// A proposal that a supervisor declined.
#[derive(Debug)]
pub(crate) struct Declined {
    /// The instrument's tag, folded.
    pub(crate) key: TagKey,
    /// The tag as written.
    pub(crate) tag: String,
    /// What was proposed.
    pub(crate) what: Proposed,
    /// The decision.
    pub(crate) decided: Decided,
}

impl Pending {
    /// Reads the proposals of a log, each with what was decided about it. What a newer program proposed is kept there and
    /// means nothing here.
    fn of(proposals: impl Iterator<Item = (OwnProposal, Option<Decided>)>) -> Pending {
        let mut pending = Pending::default();
        for (OwnProposal { proposal, .. }, decided) in proposals {
            let key = tag::key(&proposal.tag);
            if let Some(decided) = decided.filter(|decided| decided.decision == Decision::Declined) {
                let (tag, what) = (proposal.tag, proposal.what);
                pending.declined.push(Declined { key, tag, what, decided });
                continue;
            }
            // Proposed once more, it is to be decided once more.
            pending.declined.retain(|declined| declined.key != key || declined.what != proposal.what);
            match proposal.what {
                Proposed::Code(code) => pending.links.push(Link { code, key, tag: proposal.tag }),
                Proposed::Unit(unit) => {
                    // A later one says what is fitted now.
                    pending.units.retain(|(known, _)| *known != key);
                    pending.units.push((key, *unit));
                }
            }
        }
        pending
    }

    /// Returns the tags that a code was linked to.
    pub(crate) fn tags_of_code<'a>(&'a self, code: &'a str) -> impl Iterator<Item = &'a str> {
        self.links.iter().filter(move |link| link.code == code).map(|link| link.tag.as_str())
    }

    /// Returns the codes that were linked to an instrument.
    pub(crate) fn codes_of<'a>(&'a self, key: &'a TagKey) -> impl Iterator<Item = &'a str> {
        self.links.iter().filter(move |link| link.key == *key).map(|link| link.code.as_str())
    }

    /// Returns the unit that was found on an instrument.
    pub(crate) fn unit(&self, key: &TagKey) -> Option<&UnitFitted> {
        self.units.iter().find(|(known, _)| known == key).map(|(_, unit)| unit)
    }

    /// Returns what was declined, oldest first.
    pub(crate) fn declined(&self) -> impl Iterator<Item = &Declined> {
        self.declined.iter()
    }

    /// Puts the unit that is fitted into a register row that does not know it yet, and returns whether it did. An
    /// offset on record is the old unit's.
    pub(crate) fn fit(&self, row: &mut Instrument) -> bool {
        let key = tag::key(&row.tag);
        // A register that moved on from what the visit found has decided otherwise.
        let Some(unit) = self.unit(&key).filter(|unit| unit.before == row.serial) else { return false };
        row.serial.clone_from(&unit.serial);
        row.limits.clone_from(&unit.limits);
        row.offset_on_record.clear();
        row.offset_date.clear();
        true
    }
}

impl Phone {
    /// Reads what was proposed on this phone.
    pub(crate) fn read_pending(&self) -> Result<Pending, Error> {
        let reviewed = self.reviewed()?;
        let proposals = self.store().own_proposals()?.into_iter();
        Ok(Pending::of(proposals.map(|own| {
            let decided = reviewed.about(&own.id).cloned();
            (own, decided)
        })))
    }

    /// Says what was declined on an instrument, until a visit to it is signed.
    pub(crate) fn declined_on(&self, key: &TagKey) -> Result<Vec<Message>, Error> {
        let (pending, reviewed) = (self.pending()?, self.reviewed()?);
        let mut messages = Vec::new();
        for declined in pending.declined().filter(|declined| declined.key == *key) {
            if self.unanswered(reviewed.came(&declined.decided), key)?.is_some() {
                messages.push(self.declined(declined)?);
            }
        }
        Ok(messages)
    }

    /// Says that a code was declined for an instrument before.
    pub(crate) fn declined_before(&self, key: &TagKey, code: &str) -> Result<Option<Message>, Error> {
        let pending = self.pending()?;
        let is_this = |declined: &&Declined| {
            declined.key == *key && matches!(&declined.what, Proposed::Code(known) if known == code)
        };
        pending.declined().filter(is_this).last().map(|declined| self.declined(declined)).transpose()
    }

    /// Says that a proposal was declined, and the words it was declined with.
    pub(crate) fn declined(&self, declined: &Declined) -> Result<Message, Error> {
        let what = match &declined.what {
            Proposed::Code(code) => format!("That the code {} stands on this instrument", safe_text(code)),
            Proposed::Unit(unit) => {
                format!("That unit {} is fitted in place of {}", unit.serial, unit.before)
            }
        };
        let text = format!("{what} was proposed here. {}", self.said_by(&declined.decided)?);
        let remedy =
            "The register stays as it is. Compare with the plate; what it shows can be proposed again.";
        Ok(saying("proposal.declined", Grade::Warning, &text, remedy))
    }
}

#[cfg(test)]
mod tests {
    use bodies::{Confirmed, PersonId, Proposal, Technician};
    use record::{Claimed, EntryId, LogId, PayloadHash, Seq};

    use super::*;

    fn id() -> EntryId {
        EntryId { log: LogId([1; 32]), seq: Seq::FIRST, payload: PayloadHash([2; 32]) }
    }

    fn code(tag: &str, code: &str) -> OwnProposal {
        let technician = Technician { person: PersonId([7; 16]), confirmed: Confirmed::None };
        let what = Proposed::Code(code.into());
        let proposal = Proposal { technician, app: "1".into(), register: "R".into(), tag: tag.into(), what };
        OwnProposal { id: id(), proposal }
    }

    fn decided(decision: Decision) -> Option<Decided> {
        let claimed = Claimed { millis: 0, offset_minutes: 0 };
        Some(Decided { review: id(), decision, note: "no".into(), person: PersonId([5; 16]), claimed })
    }

    #[test]
    fn a_code_leads_to_every_instrument_it_was_linked_to() {
        let all = [code("LT-1", "X"), code("lt 2", "X"), code("LT-2", "Y")];
        let pending = Pending::of(all.into_iter().map(|one| (one, None)));
        assert_eq!(pending.tags_of_code("X").collect::<Vec<_>>(), ["LT-1", "lt 2"]);
        assert_eq!(pending.codes_of(&tag::key("LT-2")).collect::<Vec<_>>(), ["X", "Y"]);
        assert_eq!(pending.tags_of_code("x").count(), 0);
    }

    #[test]
    fn what_was_declined_is_not_pending_until_it_is_proposed_again() {
        let declined = (code("LT-1", "X"), decided(Decision::Declined));
        let accepted = (code("LT-2", "Y"), decided(Decision::Accepted));
        let pending = Pending::of([declined, accepted].into_iter());
        assert_eq!((pending.tags_of_code("X").count(), pending.tags_of_code("Y").count()), (0, 1));
        assert_eq!(pending.declined().count(), 1);
        let all = [(code("LT-1", "X"), decided(Decision::Declined)), (code("lt 1", "X"), None)];
        let pending = Pending::of(all.into_iter());
        assert_eq!((pending.tags_of_code("X").count(), pending.declined().count()), (1, 0));
    }
}
