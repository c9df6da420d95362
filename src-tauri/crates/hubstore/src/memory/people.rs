//! People and phones.

use std::collections::BTreeMap;

use bodies::PersonId;
use record::LogId;

use super::Memory;
use crate::plan::PEOPLE;
use crate::{Device, Error, HubPerson, People, Version};

impl People for Memory {
    async fn put_person(&self, person: &HubPerson) -> Result<(), Error> {
        let mut state = self.writing()?;
        put_person(&mut state.persons, person.clone())?;
        state.count(PEOPLE)?;
        Ok(())
    }

    async fn people_version(&self) -> Result<Version, Error> {
        Ok(self.state().counted(PEOPLE)?.map_or(Version::default(), |kept| kept.version))
    }

    async fn person_named(&self, name: &str) -> Result<Option<HubPerson>, Error> {
        Ok(self.state().persons.values().find(|person| person.name == name).cloned())
    }

    async fn persons(&self) -> Result<Vec<HubPerson>, Error> {
        let mut all: Vec<HubPerson> = self.state().persons.values().cloned().collect();
        all.sort_by(|one, other| one.name.cmp(&other.name));
        Ok(all)
    }

    async fn drop_person(&self, id: PersonId) -> Result<bool, Error> {
        let mut state = self.writing()?;
        let gone = state.persons.contains_key(&id);
        if gone {
            state.count(PEOPLE)?;
            state.persons.remove(&id);
        }
        Ok(gone)
    }

    async fn put_device(&self, device: &Device) -> Result<(), Error> {
        self.writing()?.devices.insert(device.log, device.clone());
        Ok(())
    }

    async fn device(&self, log: LogId) -> Result<Option<Device>, Error> {
        Ok(self.state().devices.get(&log).cloned())
    }

    async fn devices(&self) -> Result<Vec<Device>, Error> {
        Ok(self.state().devices.values().cloned().collect())
    }
}

/// Writes a person down, in place of what stood under the id.
pub(super) fn put_person(
    persons: &mut BTreeMap<PersonId, HubPerson>,
    person: HubPerson,
) -> Result<(), Error> {
    if persons.values().any(|other| other.name == person.name && other.id != person.id) {
        return Err(Error::NameTaken);
    }
    persons.insert(person.id, person);
    Ok(())
}
