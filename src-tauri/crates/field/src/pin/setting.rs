//! Setting a PIN, changing it, taking it off.

use super::rule::{FEWEST, MOST, Pin};
use crate::message::saying;
use crate::view::{Grade, PinView};
use crate::{Error, Phone};

impl Phone {
    /// Returns where the PIN of whoever works with this phone stands.
    ///
    /// # Errors
    ///
    /// [`Error::NoTechnician`], and what the store says.
    pub fn pin_view(&self) -> Result<PinView, Error> {
        let _changing = self.changing();
        self.pin_shown("")
    }

    /// Sets a PIN where none is set.
    ///
    /// # Errors
    ///
    /// [`Error::NotAPin`], [`Error::EasyPin`], [`Error::PinsDiffer`] for what is no PIN; [`Error::PinIsSet`],
    /// [`Error::NoTechnician`], and what the store says. Nothing was changed then.
    pub fn pin_set(&self, pin: &str, again: &str) -> Result<PinView, Error> {
        let _changing = self.changing();
        if self.kept_pin()?.is_some() {
            return Err(Error::PinIsSet);
        }
        self.keep_new_pin(&Pin::new(pin, again)?)?;
        self.pin_shown("The PIN is set. From now on it is asked for when you sign.")
    }

    /// Changes the PIN for another one.
    ///
    /// # Errors
    ///
    /// As [`Phone::pin_set`] for the new one, before the old one is tried; [`Error::NoPin`], [`Error::WrongPin`],
    /// [`Error::PinWaits`]. The old one then stays.
    pub fn pin_change(&self, old: &str, pin: &str, again: &str) -> Result<PinView, Error> {
        let _changing = self.changing();
        let kept = self.kept_pin()?.ok_or(Error::NoPin)?;
        let pin = Pin::new(pin, again)?;
        self.try_pin(kept, old)?;
        self.keep_new_pin(&pin)?;
        self.pin_shown("The PIN was changed.")
    }

    /// Takes the PIN off.
    ///
    /// # Errors
    ///
    /// [`Error::NoPin`], [`Error::WrongPin`], [`Error::PinWaits`], and what the store says. The PIN then stays.
    pub fn pin_remove(&self, old: &str) -> Result<PinView, Error> {
        let _changing = self.changing();
        self.try_pin(self.kept_pin()?.ok_or(Error::NoPin)?, old)?;
        self.forget_pin()?;
        self.pin_shown(
            "The PIN was taken off. What you sign from now on says that nobody confirmed who signed.",
        )
    }

    /// Returns whether whoever works with this phone set a PIN.
    pub(crate) fn has_pin(&self) -> Result<bool, Error> {
        Ok(self.kept_pin()?.is_some())
    }

    fn pin_shown(&self, done: &str) -> Result<PinView, Error> {
        let technician = self.technician()?;
        if technician.is_empty() {
            return Err(Error::NoTechnician);
        }
        let mut kept = self.kept_pin()?;
        let says = if kept.is_some() {
            "A PIN is set. It is asked for when you sign, and the record says that it was typed."
        } else {
            "No PIN is set. What you sign says that nobody confirmed who signed."
        };
        let wait = kept.as_mut().map(|kept| self.pin_wait(kept)).transpose()?.flatten();
        let done = (!done.is_empty()).then(|| saying("pin.done", Grade::Note, done, ""));
        Ok(PinView {
            technician,
            is_set: kept.is_some(),
            says: says.to_owned(),
            rule: format!(
                "{FEWEST} to {MOST} digits, not all alike, and not one after the other like 1234. It stays on this \
                 phone and is never sent."
            ),
            forgotten: "Forgotten? It does not keep you from your work: you can always sign without it, with a reason, and \
                        the record says so."
                .to_owned(),
            message: wait.map(|seconds| Error::PinWaits { seconds }.message()).or(done),
        })
    }
}
