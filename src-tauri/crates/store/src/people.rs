//! Who is behind the numbers in records, as the hub names them.
//!
//! The hub gives out all names at once, in a page of the feed that has an area of its own. Each such page takes the place
//! of the one before, so that a name that the hub erased is gone here with the next.

use std::collections::BTreeMap;

use bodies::PersonId;
use exchange::page::{Named, Page};
use rusqlite::Connection;

use crate::{Error, Store, settings};

/// The setting that holds the names.
const PEOPLE: &str = "hub.people";

impl Store {
    /// Returns the names that the hub gave, by number; none where it never gave any.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when they are not as they were written, and what storage gives.
    pub fn people(&self) -> Result<Option<BTreeMap<PersonId, String>>, Error> {
        let Some(text) = self.setting(PEOPLE)? else { return Ok(None) };
        let list: Vec<([u8; 16], String)> = serde_json::from_str(&text).map_err(|_| Error::Unreadable {
            what: "the names of people are not as they were written".into(),
        })?;
        Ok(Some(list.into_iter().map(|(number, name)| (PersonId(number), name)).collect()))
    }
}

/// Takes the names of a page in the place of those before; returns whether it has any.
pub(crate) fn take(connection: &Connection, page: &Page) -> Result<bool, Error> {
    let Some(people) = page.people.as_ref().filter(|_| page.snapshot) else {
        return Ok(false);
    };
    let list: Vec<([u8; 16], &str)> =
        people.iter().map(|Named { person, name }| (person.0, name.as_str())).collect();
    let text = serde_json::to_string(&list)
        .map_err(|error| Error::Broken { what: format!("the names of people as text: {error}") })?;
    settings::put(connection, &[(PEOPLE, &text)])?;
    Ok(true)
}
