//! Where a PIN is kept: in one row of this phone's settings, named by the number of its person.

use bodies::PersonId;
use serde::{Deserialize, Serialize};

use super::hash;
use super::rule::Pin;
use super::tries::Tries;
use crate::identity::hex;
use crate::{Error, Phone};

/// A PIN as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Kept {
    /// Its hash.
    hash: String,
    /// Wrong ones since the right one was typed last.
    pub(super) tries: Tries,
}

/// Returns the name of the row that keeps the PIN of a person, by their number as hexadecimal digits.
pub(crate) fn row_of(number: &str) -> String {
    format!("pin of {number}")
}

impl Phone {
    /// Returns the PIN of whoever works with this phone; none where none is set.
    ///
    /// A row that cannot be read any more counts as none: nobody is kept from their work by it, what is signed says
    /// `none`, and another can be set.
    pub(super) fn kept_pin(&self) -> Result<Option<Kept>, Error> {
        for row in self.pin_rows()? {
            let text = match self.store().setting(&row) {
                Err(store::Error::Unreadable { .. }) => None,
                other => other?,
            };
            if let Some(text) = text {
                let kept = serde_json::from_str(&text).ok();
                if kept.is_none() {
                    tracing::warn!("a PIN cannot be read by this version and counts as none");
                }
                return Ok(kept);
            }
        }
        Ok(None)
    }

    /// Keeps a new PIN of whoever works with this phone, in the place of any other.
    pub(super) fn keep_new_pin(&self, pin: &Pin) -> Result<(), Error> {
        let mut salt = [0; 16];
        self.ports().entropy.fill(&mut salt)?;
        self.keep_pin(&Kept { hash: hash::hashed(pin, salt)?, tries: Tries::default() })
    }

    /// Forgets the PIN of whoever works with this phone.
    pub(super) fn forget_pin(&self) -> Result<(), Error> {
        let rows = self.pin_rows()?;
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        Ok(self.store().unset(&rows)?)
    }

    /// Compares a PIN that was typed with the one that is kept. A wrong one is counted, and a right one ends the count.
    ///
    /// # Errors
    ///
    /// [`Error::NotAPin`] for what can be none, which counts as no try; [`Error::PinWaits`], [`Error::WrongPin`].
    pub(super) fn try_pin(&self, mut kept: Kept, text: &str) -> Result<(), Error> {
        let pin = Pin::typed(text)?;
        if let Some(seconds) = self.pin_wait(&mut kept)? {
            return Err(Error::PinWaits { seconds });
        }
        // Counted before it is compared: whoever ends the app meanwhile has tried all the same.
        let before = kept.tries;
        kept.tries.count(self.now());
        self.keep_pin(&kept)?;
        if hash::is_of(&pin, &kept.hash)? {
            kept.tries = Tries::default();
            return self.keep_pin(&kept);
        }
        tracing::info!("a wrong PIN was typed");
        Err(Error::WrongPin { left: before.left() - 1, wait: before.next_cost() })
    }

    /// Returns the seconds until a PIN may be tried; none where it may be tried now.
    pub(super) fn pin_wait(&self, kept: &mut Kept) -> Result<Option<u32>, Error> {
        let now = self.now();
        if kept.tries.follow(now) {
            self.keep_pin(kept)?;
        }
        Ok(kept.tries.wait(now))
    }

    fn keep_pin(&self, kept: &Kept) -> Result<(), Error> {
        let rows = self.pin_rows()?;
        let (own, others) = rows.split_first().ok_or(Error::NoTechnician)?;
        let text =
            serde_json::to_string(kept).map_err(|error| Error::PinFailed { what: error.to_string() })?;
        self.store().set(&[(own, &text)])?;
        let others: Vec<&str> = others.iter().map(String::as_str).collect();
        Ok(self.store().unset(&others)?)
    }

    /// Returns the rows in which the PIN of whoever works with this phone may stand, the one to keep it in first: a PIN set
    /// before the phone was enrolled, or before the hub knew its person, stands under the number that was drawn here.
    fn pin_rows(&self) -> Result<Vec<String>, Error> {
        let numbers = self.numbers_of(&self.technician()?)?;
        Ok(numbers.into_iter().map(|PersonId(number)| row_of(&hex(&number))).collect())
    }
}
