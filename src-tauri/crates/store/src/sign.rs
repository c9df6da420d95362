//! Signing a visit: the entry comes in, the draft goes out, the list shows it. All or nothing.

use crate::{Appended, Error, NewEntry, SignedVisit, Store, drafts, log, signed};

impl Store {
    /// Adds the entry of a signed visit, removes its draft and lists it, in one transaction.
    ///
    /// Safe to repeat after an answer that was lost: the same entry again is there already, and stays once.
    ///
    /// # Errors
    ///
    /// [`Error::NoDraft`] when a new entry comes for a draft that is gone, so that no visit is signed twice;
    /// [`Error::OutOfStep`] and [`Error::Taken`] as for [`Store::append`]; what storage gives. The draft is
    /// then still there.
    pub fn sign(&self, draft: &str, entry: &NewEntry, visit: &SignedVisit) -> Result<Appended, Error> {
        self.sign_with(draft, entry, visit, &[])
    }

    /// The same, with entries that follow from the visit behind it in the log.
    ///
    /// # Errors
    ///
    /// As [`Store::sign`].
    pub fn sign_with(
        &self,
        draft: &str,
        entry: &NewEntry,
        visit: &SignedVisit,
        following: &[NewEntry],
    ) -> Result<Appended, Error> {
        self.write(|transaction| {
            let appended = log::append(transaction, entry)?;
            let was_open = drafts::remove(transaction, draft)?;
            if matches!(appended, Appended::New(_)) && !was_open {
                return Err(Error::NoDraft { id: draft.to_owned() });
            }
            signed::put(transaction, visit, appended.arrival())?;
            for entry in following {
                log::append(transaction, entry)?;
            }
            Ok(appended)
        })
    }
}
