//! The body of a change.

use record::{Kind, LogId};

use super::made::What;
use super::{ChangeMade, PersonChange, import, key};
use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, bytes, word};
use crate::{Error, HubRole, PersonId};

/// The kind of entry that holds a change.
pub const CHANGE: Kind = Kind(9);

/// The version of the change's body that is written here. What version 1 says, version 2 says with the same bytes; it
/// adds changes about phones.
pub const CHANGE_VERSION: u32 = 2;

/// A change that somebody made at the hub, as it is signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// Who made it; none by a command at the hub's own machine that was not told who gave it.
    pub by: Option<PersonId>,
    /// What was changed.
    pub made: ChangeMade,
}

body_methods!(Change);

impl Body for Change {
    const KIND: Kind = CHANGE;
    const VERSION: u32 = CHANGE_VERSION;
    const NAME: &'static str = "change";
    const VERSIONED: &'static str = "change version";

    fn write(&self, map: &mut Map) -> Written {
        map.put(key::WHAT, |out| Ok(out.str(self.made.word())?.ok()?))?;
        map.some(key::BY, self.by.as_ref(), |out, by| by.write(out))?;
        match &self.made {
            ChangeMade::Imported(import) => import::write(map, import),
            ChangeMade::Person(person, change) => {
                map.put(key::PERSON, |out| person.write(out))?;
                write_person(map, *change)
            }
            ChangeMade::PhoneConfirmed(phone) => map.put(key::PHONE, |out| Ok(out.bytes(&phone.0)?.ok()?)),
            ChangeMade::PhonesLookedThrough => Ok(()),
        }
    }

    fn read(map: &mut Fields<'_>, version: u32) -> Result<Change, Error> {
        let known = |word: &str| What::from_word(word, version);
        let what = map.need(key::WHAT, |from| word(from, "change.what", known))?;
        let by = map.some(key::BY, |from| PersonId::read(from, "change.by"))?;
        // Each asks for its own fields only; another's are left and refused as fields nobody knows.
        let made = match what {
            What::Imported => ChangeMade::Imported(import::read(map)?),
            What::Added => {
                let (role, signs_in) = (read_role(map)?, map.flag(key::SIGNS_IN)?);
                of_person(map, PersonChange::Added { role, signs_in })?
            }
            What::Renamed => of_person(map, PersonChange::Renamed)?,
            What::Erased => of_person(map, PersonChange::Erased)?,
            What::Role => {
                let role = read_role(map)?;
                of_person(map, PersonChange::Role(role))?
            }
            What::Password => of_person(map, PersonChange::Password)?,
            What::NoSignIn => of_person(map, PersonChange::NoSignIn)?,
            What::PhoneConfirmed => {
                ChangeMade::PhoneConfirmed(LogId(map.need(key::PHONE, |from| bytes(from, "change.phone"))?))
            }
            What::PhonesLookedThrough => ChangeMade::PhonesLookedThrough,
        };
        Ok(Change { by, made })
    }

    fn check(&self) -> Result<(), &'static str> {
        match &self.made {
            ChangeMade::Imported(import) if import.after <= import.before => Err("change.versions"),
            _ => Ok(()),
        }
    }
}

fn write_person(map: &mut Map, change: PersonChange) -> Written {
    match change {
        PersonChange::Added { role, signs_in } => {
            write_role(map, role)?;
            map.flag(key::SIGNS_IN, signs_in)
        }
        PersonChange::Role(role) => write_role(map, role),
        PersonChange::Renamed | PersonChange::Erased | PersonChange::Password | PersonChange::NoSignIn => {
            Ok(())
        }
    }
}

fn write_role(map: &mut Map, role: HubRole) -> Written {
    map.put(key::ROLE, |out| Ok(out.str(role.word())?.ok()?))
}

fn read_role(map: &mut Fields<'_>) -> Result<HubRole, Error> {
    map.need(key::ROLE, |from| word(from, "change.role", HubRole::from_word))
}

fn of_person(map: &mut Fields<'_>, change: PersonChange) -> Result<ChangeMade, Error> {
    let person = map.need(key::PERSON, |from| PersonId::read(from, "change.person"))?;
    Ok(ChangeMade::Person(person, change))
}
