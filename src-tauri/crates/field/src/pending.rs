//! What this phone has proposed to the register and no register says yet.
//!
//! The proposals are entries of the log; this is a view of them, made anew when the app starts and after each new one.
//! A proposal is settled once the register that is loaded says the same; until then it holds on this phone, shown as
//! pending.

use bodies::{PROPOSAL, Proposal, Proposed, UnitFitted};
use domain::visit::Instrument;
use store::{Kind, TagKey};

use crate::{Error, Phone, tag};

/// The proposals on this phone, oldest first.
#[derive(Debug, Default)]
pub(crate) struct Pending {
    links: Vec<Link>,
    units: Vec<(TagKey, UnitFitted)>,
}

/// A code that was linked to an instrument.
#[derive(Debug)]
struct Link {
    code: String,
    key: TagKey,
    tag: String,
}

impl Pending {
    /// Reads the proposals of a log. What a newer program proposed is kept there and means nothing here.
    fn of(proposals: impl Iterator<Item = Proposal>) -> Pending {
        let mut pending = Pending::default();
        for proposal in proposals {
            let key = tag::key(&proposal.tag);
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
    /// Reads the proposals off the log.
    pub(crate) fn read_pending(&self) -> Result<Pending, Error> {
        let entries = self.store().of_kind(Kind(u64::from(PROPOSAL.0)))?;
        let read = entries.iter().filter_map(|kept| {
            let entry = record::open(&kept.entry.bytes).ok()?;
            Proposal::of_entry(&entry).ok()
        });
        Ok(Pending::of(read))
    }
}

#[cfg(test)]
mod tests {
    use bodies::{Confirmed, PersonId, Technician};

    use super::*;

    fn code(tag: &str, code: &str) -> Proposal {
        let technician = Technician { person: PersonId([7; 16]), confirmed: Confirmed::None };
        let what = Proposed::Code(code.into());
        Proposal { technician, app: "1".into(), register: "R".into(), tag: tag.into(), what }
    }

    #[test]
    fn a_code_leads_to_every_instrument_it_was_linked_to() {
        let all = [code("LT-1", "X"), code("lt 2", "X"), code("LT-2", "Y")];
        let pending = Pending::of(all.into_iter());
        assert_eq!(pending.tags_of_code("X").collect::<Vec<_>>(), ["LT-1", "lt 2"]);
        assert_eq!(pending.codes_of(&tag::key("LT-2")).collect::<Vec<_>>(), ["X", "Y"]);
        assert_eq!(pending.tags_of_code("x").count(), 0);
    }
}
