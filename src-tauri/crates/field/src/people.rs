//! Who works with this phone, and who is behind the numbers in records.
//!
//! A record names a person by a number only. Before a phone is enrolled the number is drawn here, and the name behind it
//! stands in the settings of this phone. A phone that belongs to a hub has a person in its certificate: whoever works
//! with it when it is enrolled signs with that person's number from then on. Names come from the hub and go with it: a
//! name that the hub erased is erased here after the next exchange, from the settings too.

use std::collections::BTreeSet;

use bodies::{Certified, Confirmed, PersonId, Technician};
use exchange::session::Ledger;

use crate::identity::{from_hex, hex};
use crate::{Error, Phone, pin};

/// The setting that holds who works with this phone now.
const TECHNICIAN: &str = "technician";
/// The setting that holds the number of whoever the phone belongs to, once a name was put to it.
const OWNER: &str = "technician.owner";
/// The setting that holds the numbers that the hub had names for, at the last look.
const NAMED: &str = "people.named";
/// The longest name that is kept.
const LONGEST_NAME: u32 = 80;

impl Phone {
    /// Returns who works with this phone; empty until told.
    pub(crate) fn technician(&self) -> Result<String, Error> {
        Ok(self.store().setting(TECHNICIAN)?.unwrap_or_default())
    }

    /// Keeps who works with this phone. Somebody who was here before, or whom the hub knows, gets the number they have.
    pub(crate) fn keep_technician(&self, name: &str) -> Result<(), Error> {
        let name = name.trim();
        if name.chars().count() > LONGEST_NAME as usize {
            return Err(Error::TextTooLong { most: LONGEST_NAME });
        }
        self.store().set(&[(TECHNICIAN, name)])?;
        let owner = self.name_owner()?;
        if name.is_empty() || self.number_of(name, owner)?.is_some() {
            return Ok(());
        }
        let mut number = [0; 16];
        self.ports().entropy.fill(&mut number)?;
        let number = hex(&number);
        Ok(self.store().set(&[(&number_of(name), &number), (&name_of(&number), name)])?)
    }

    /// Returns who signs, as a record names them. How that was confirmed is up to the last step of a visit; what is signed
    /// anywhere else was confirmed by nothing.
    pub(crate) fn signatory(&self) -> Result<Technician, Error> {
        let owner = self.name_owner()?;
        let person = self.number_of(&self.technician()?, owner)?.ok_or(Error::NoTechnician)?;
        Ok(Technician { person, confirmed: Confirmed::None })
    }

    /// Returns the numbers that somebody has or had here, the one that signs first. Asks no certificate, so that it can be
    /// told where one cannot be read.
    pub(crate) fn numbers_of(&self, name: &str) -> Result<Vec<PersonId>, Error> {
        let mut numbers = Vec::new();
        if name.is_empty() {
            return Ok(numbers);
        }
        let owner = self.store().setting(OWNER)?.as_deref().and_then(person);
        if let Some(owner) = owner
            && self.is_called(owner, name)?
        {
            numbers.push(owner);
        }
        for number in [self.number_at_hub(name)?, self.drawn(name)?].into_iter().flatten() {
            if !numbers.contains(&number) {
                numbers.push(number);
            }
        }
        Ok(numbers)
    }

    /// Puts the name of whoever works with the phone to the person of its certificate, once, and returns that person.
    pub(crate) fn name_owner(&self) -> Result<Option<PersonId>, Error> {
        let (name, owner) = (self.technician()?, self.owner()?);
        if let Some(person) = owner.filter(|_| !name.is_empty()) {
            let number = hex(&person.0);
            if self.store().setting(OWNER)?.as_deref() != Some(number.as_str()) {
                self.store().set(&[(OWNER, &number), (&name_of(&number), &name)])?;
            }
        }
        Ok(owner)
    }

    /// Returns the name behind a number, or that it is not known here.
    pub(crate) fn name_of(&self, person: PersonId) -> Result<String, Error> {
        let number = hex(&person.0);
        let nameless = || format!("person {} (no name here)", number.get(..8).unwrap_or_default());
        Ok(self.known_name(person)?.unwrap_or_else(nameless))
    }

    /// Returns the name behind a number, where it is known: the hub's, else the one that was typed here.
    pub(crate) fn known_name(&self, person: PersonId) -> Result<Option<String>, Error> {
        let from_hub = self.store().people()?.and_then(|mut people| people.remove(&person));
        let name = match from_hub {
            Some(name) => Some(name),
            None => self.store().setting(&name_of(&hex(&person.0)))?,
        };
        Ok(name.filter(|name| !name.is_empty()))
    }

    /// Erases the names that the hub had and has no more.
    pub(crate) fn follow_people(&self) -> Result<(), Error> {
        let Some(people) = self.store().people()? else { return Ok(()) };
        let before = self.store().setting(NAMED)?.unwrap_or_default();
        let now: BTreeSet<String> = people.keys().map(|person| hex(&person.0)).collect();
        let gone = before.split(' ').filter(|number| !number.is_empty() && !now.contains(*number));
        for number in gone {
            self.erase(number)?;
        }
        let now = now.into_iter().collect::<Vec<_>>().join(" ");
        if now != before {
            self.store().set(&[(NAMED, &now)])?;
        }
        Ok(())
    }

    /// Erases the name behind a number, every other mention of that name here, and the PIN that went with it.
    fn erase(&self, number: &str) -> Result<(), Error> {
        let name = self.store().setting(&name_of(number))?.unwrap_or_default();
        let mut gone = vec![name_of(number), pin::row_of(number)];
        if !name.is_empty() {
            // The number that was drawn for the same name before the phone was enrolled.
            if let Some(drawn) = self.store().setting(&number_of(&name))? {
                gone.extend([name_of(&drawn), pin::row_of(&drawn)]);
            }
            gone.push(number_of(&name));
            if self.technician()? == name {
                gone.push(TECHNICIAN.to_owned());
            }
        }
        let gone: Vec<&str> = gone.iter().map(String::as_str).collect();
        Ok(self.store().unset(&gone)?)
    }

    /// The number of somebody: as the phone's owner, as the hub names them, as drawn here.
    fn number_of(&self, name: &str, owner: Option<PersonId>) -> Result<Option<PersonId>, Error> {
        if name.is_empty() {
            return Ok(None);
        }
        if let Some(owner) = owner
            && self.is_called(owner, name)?
        {
            return Ok(Some(owner));
        }
        match self.number_at_hub(name)? {
            Some(person) => Ok(Some(person)),
            None => self.drawn(name),
        }
    }

    /// Whether a name is that of a number: as it was typed here, or as the hub has it.
    fn is_called(&self, person: PersonId, name: &str) -> Result<bool, Error> {
        let typed = self.store().setting(&name_of(&hex(&person.0)))?;
        Ok(typed.as_deref() == Some(name) || self.known_name(person)?.as_deref() == Some(name))
    }

    /// The number of somebody whom the hub names.
    fn number_at_hub(&self, name: &str) -> Result<Option<PersonId>, Error> {
        let people = self.store().people()?.unwrap_or_default();
        Ok(people.into_iter().find(|(_, known)| known == name).map(|(person, _)| person))
    }

    /// The number that was drawn here for somebody.
    fn drawn(&self, name: &str) -> Result<Option<PersonId>, Error> {
        Ok(self.store().setting(&number_of(name))?.as_deref().and_then(person))
    }

    /// The person of this phone's certificate.
    fn owner(&self) -> Result<Option<PersonId>, Error> {
        let Some(identity) = self.store().identity()? else { return Ok(None) };
        let trust = Ledger::trust(self.store())?;
        Ok(trust.device(identity.log.of_record()).and_then(|certificate| match &certificate.certified {
            Certified::Device { person, .. } => Some(*person),
            _ => None,
        }))
    }
}

fn person(number: &str) -> Option<PersonId> {
    from_hex(number)?.try_into().ok().map(PersonId)
}

fn number_of(name: &str) -> String {
    format!("number of {name}")
}

fn name_of(number: &str) -> String {
    format!("name of {number}")
}
