//! Identity and settings.

use super::Memory;
use super::state::State;
use crate::plan;
use crate::{Counted, Error, Identity, Meta};

impl Meta for Memory {
    async fn identity(&self) -> Result<Option<Identity>, Error> {
        Ok(self.state().identity.clone())
    }

    async fn begin_epoch(&self, identity: &Identity, settings: &[(&str, &[u8])]) -> Result<(), Error> {
        let mut state = self.writing()?;
        state.identity = Some(identity.clone());
        for (name, value) in settings {
            state.set((*name).to_owned(), Some(value.to_vec()));
        }
        state.tokens.clear();
        Ok(())
    }

    async fn setting(&self, name: &str) -> Result<Option<Vec<u8>>, Error> {
        Ok(self.state().settings.get(name).cloned())
    }

    async fn put_setting(&self, name: &str, value: Option<&[u8]>) -> Result<(), Error> {
        self.writing()?.set(name.to_owned(), value.map(<[u8]>::to_vec));
        Ok(())
    }

    async fn counted(&self, name: &str) -> Result<Option<Counted>, Error> {
        self.state().counted(name)
    }
}

impl State {
    /// Reads a setting that counts its changes.
    pub(super) fn counted(&self, name: &str) -> Result<Option<Counted>, Error> {
        self.settings.get(name).map(|kept| plan::counted(kept)).transpose()
    }

    /// Gives such a setting without a value its next number.
    pub(super) fn count(&mut self, name: &str) -> Result<(), Error> {
        let kept = self.counted(name)?;
        self.settings.insert(name.to_owned(), plan::next(kept.as_ref()));
        Ok(())
    }

    /// Sets a setting, or removes it.
    pub(super) fn set(&mut self, name: String, value: Option<Vec<u8>>) {
        match value {
            Some(value) => drop(self.settings.insert(name, value)),
            None => drop(self.settings.remove(&name)),
        }
    }
}
