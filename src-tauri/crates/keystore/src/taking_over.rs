//! Taking over the keys of earlier installs, which lay unsealed in files of this folder.
//!
//! The unsealed file is the truth until it is gone: the key is sealed, put beside it, opened from there to check, and only
//! then is the file removed. A cut between any two of these leaves the file, and the next start begins again with it.
//! The keys of logs that are written no more are taken over as well: whoever had them could still sign.

use field::KeysError;
use field::host::{KeyFolder, KeyName};
use zeroize::Zeroizing;

use crate::files::{Files, refused};
use crate::{KeyStore, SealedFolder};

impl<S: KeyStore, F: Files> SealedFolder<S, F> {
    /// Takes over every unsealed key. One that cannot be stays as it is, and the others go on.
    pub(crate) fn take_over(&self) {
        let names = self.files.names().unwrap_or_else(|error| {
            tracing::warn!(%error, "the folder of keys was not looked through");
            Vec::new()
        });
        for name in names.iter().filter_map(|file| KeyName::of_file(file, KeyFolder::ENDING)) {
            match self.take_over_one(&name) {
                Ok(true) => tracing::info!("a key was taken over into the key store"),
                Ok(false) => tracing::warn!("a file of the folder of keys holds none"),
                Err(error) => tracing::warn!(%error, "a key stays unsealed until the next start"),
            }
        }
    }

    /// Returns whether there was a key in the file.
    fn take_over_one(&self, name: &KeyName) -> Result<bool, KeysError> {
        let Some(secret) = self.unsealed(name)? else { return Ok(false) };
        let secret: Zeroizing<[u8; 32]> =
            Zeroizing::new(secret.as_slice().try_into().map_err(|_| KeysError::Lost)?);
        let sealed_before = match self.opened(name) {
            Ok(opened) => opened.as_slice() == secret.as_slice(),
            Err(KeysError::Lost) => false,
            Err(refused) => return Err(refused),
        };
        if !sealed_before {
            self.keep(name, &secret)?;
        }
        self.files.remove(&name.file(KeyFolder::ENDING)).and_then(|()| self.files.sync()).map_err(refused)?;
        Ok(true)
    }

    /// Reads the unsealed key of this name, if there is one that is whole. A file that is not was cut while it was
    /// written, before anything was signed with it.
    pub(crate) fn unsealed(&self, name: &KeyName) -> Result<Option<Zeroizing<Vec<u8>>>, KeysError> {
        let bytes = self.files.read(&name.file(KeyFolder::ENDING)).map_err(refused)?;
        Ok(bytes.map(Zeroizing::new).filter(|bytes| bytes.len() == 32))
    }
}
