//! Who did it, and how the phone knew.

use crate::Error;
use crate::codec::{Out, Read, Written, bytes, row, text};

/// A person: a random name that says nothing. Who it is stands in the register and can be erased there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PersonId(pub [u8; 16]);

impl PersonId {
    pub(crate) fn write(self, out: &mut Out) -> Written {
        Ok(out.bytes(&self.0)?.ok()?)
    }

    pub(crate) fn read(from: &mut Read<'_>, place: &'static str) -> Result<PersonId, Error> {
        Ok(PersonId(bytes(from, place)?))
    }
}

/// How the phone knew who signs. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Confirmed {
    /// The phone was unlocked by its owner (screen lock, finger, face) for this.
    Unlocked,
    /// A number was typed.
    Pin,
    /// Not at all.
    None,
}

const CONFIRMED: [Confirmed; 3] = [Confirmed::Unlocked, Confirmed::Pin, Confirmed::None];

impl Confirmed {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Confirmed::Unlocked => "unlocked",
            Confirmed::Pin => "pin",
            Confirmed::None => "none",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Confirmed> {
        CONFIRMED.into_iter().find(|confirmed| confirmed.word() == word)
    }
}

/// Who did what the entry tells, and how the phone knew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Technician {
    /// Who.
    pub person: PersonId,
    /// How it was confirmed at signing.
    pub confirmed: Confirmed,
}

impl Technician {
    /// Writes `[person, confirmed]`.
    pub(crate) fn write(&self, out: &mut Out) -> Written {
        Ok(out.array(2)?.bytes(&self.person.0)?.str(self.confirmed.word())?.ok()?)
    }

    /// Reads the same.
    pub(crate) fn read(from: &mut Read<'_>) -> Result<Technician, Error> {
        let place = "technician";
        row(from, 2, place)?;
        let person = PersonId::read(from, place)?;
        let confirmed = Confirmed::from_word(&text(from, place)?).ok_or(Error::at(place))?;
        Ok(Technician { person, confirmed })
    }
}
