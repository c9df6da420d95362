//! Who works with this phone.
//!
//! A record names a person by a random number only. Which name that is stands in the settings of the phone that
//! signed, apart from the records, so that a name can be erased there without touching what was signed.

use bodies::{Confirmed, PersonId, Technician};

use crate::identity::{from_hex, hex};
use crate::{Error, Phone};

/// The setting that holds who works with this phone now.
const TECHNICIAN: &str = "technician";
/// The longest name that is kept.
const LONGEST_NAME: u32 = 80;

impl Phone {
    /// Returns who works with this phone; empty until told.
    pub(crate) fn technician(&self) -> Result<String, Error> {
        Ok(self.store().setting(TECHNICIAN)?.unwrap_or_default())
    }

    /// Keeps who works with this phone. Somebody who was here before gets the number they had.
    pub(crate) fn keep_technician(&self, name: &str) -> Result<(), Error> {
        let name = name.trim();
        if name.chars().count() > LONGEST_NAME as usize {
            return Err(Error::TextTooLong { most: LONGEST_NAME });
        }
        if name.is_empty() || self.store().setting(&number_of(name))?.is_some() {
            return Ok(self.store().set(&[(TECHNICIAN, name)])?);
        }
        let mut number = [0; 16];
        self.ports().entropy.fill(&mut number)?;
        let number = hex(&number);
        let named = name_of(&number);
        Ok(self.store().set(&[(TECHNICIAN, name), (&number_of(name), &number), (&named, name)])?)
    }

    /// Returns who signs, as a record names them.
    pub(crate) fn signatory(&self) -> Result<Technician, Error> {
        let name = self.technician()?;
        let number = self.store().setting(&number_of(&name))?.ok_or(Error::NoTechnician)?;
        let number = from_hex(&number).and_then(|number| number.try_into().ok());
        let person = PersonId(number.ok_or(Error::NoTechnician)?);
        // The phone asks nobody for a number or a finger yet, and says so.
        Ok(Technician { person, confirmed: Confirmed::None })
    }

    /// Returns the name behind a number, or that it is not known here.
    pub(crate) fn name_of(&self, person: PersonId) -> Result<String, Error> {
        let number = hex(&person.0);
        let name = self.store().setting(&name_of(&number))?;
        Ok(name.unwrap_or_else(|| format!("person {} (no name here)", number.get(..8).unwrap_or_default())))
    }
}

fn number_of(name: &str) -> String {
    format!("number of {name}")
}

fn name_of(number: &str) -> String {
    format!("name of {number}")
}
