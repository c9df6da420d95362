//! What follows from an entry, in the step that appends it.

use std::collections::BTreeMap;

use bodies::PersonId;
use record::EntryId;

use super::people::put_person;
use super::state::State;
use crate::plan::{PEOPLE, diff, ends_sign_ins, who};
use crate::{Changed, Error, Follows, HubPerson, Purpose, Rows};

impl State {
    /// Returns whether what follows can be done; `entry` is named where it cannot.
    pub(super) fn can_follow(&self, follows: &Follows, entry: EntryId) -> Result<(), Error> {
        let stands = self.standing();
        let rows_stand = follows.rows.iter().all(|row| stands.get(&row.was.tag) == Some(&row.was));
        let import = follows.import.as_ref();
        let comes_to =
            import.is_none_or(|import| diff(&stands, import.rows.clone(), self.version).1 == import.put);
        let settings_stand =
            follows.settings.iter().all(|(name, setting)| self.settings.get(name) == setting.was.as_ref());
        if !rows_stand || !comes_to || !settings_stand {
            return Err(Error::OutOfStep { entry });
        }
        let mut persons = self.persons.clone();
        for change in &follows.people {
            if !change_person(&mut persons, change)? {
                return Err(Error::OutOfStep { entry });
            }
        }
        match follows.standings.iter().find(|(log, _)| !self.is_known(*log)) {
            Some((log, _)) => Err(Error::UnknownLog { log: *log }),
            None => Ok(()),
        }
    }

    /// Does what follows, which can be done.
    pub(super) fn follow(&mut self, follows: Follows) -> Result<(), Error> {
        let Follows { rows, import, people, settings, standings } = follows;
        self.put(Rows::Some(rows.into_iter().map(|row| row.is).collect()));
        if let Some(import) = import {
            self.put(import.rows);
        }
        for change in people {
            change_person(&mut self.persons, &change)?;
            self.count(PEOPLE)?;
            if let Some(id) = who(&change).filter(|_| ends_sign_ins(&change)) {
                self.end_tokens(Purpose::SignIn, &id.0);
            }
        }
        for (name, Changed { is, .. }) in settings {
            self.set(name, is);
        }
        for (log, standing) in standings {
            if let Some(row) = self.logs.get_mut(&log) {
                row.standing = standing;
            }
            self.end_tokens(Purpose::Session, &log.0);
        }
        Ok(())
    }

    fn end_tokens(&mut self, purpose: Purpose, holder: &[u8]) {
        self.tokens.retain(|(what, _), token| *what != purpose || token.holder.as_slice() != holder);
    }
}

/// Changes what stands of a person; returns whether it stood as it was read.
fn change_person(
    persons: &mut BTreeMap<PersonId, HubPerson>,
    change: &Changed<Option<HubPerson>>,
) -> Result<bool, Error> {
    let Some(id) = who(change) else { return Ok(true) };
    if persons.get(&id) != change.was.as_ref() {
        return Ok(false);
    }
    match &change.is {
        Some(is) => put_person(persons, is.clone())?,
        None => drop(persons.remove(&id)),
    }
    Ok(true)
}
