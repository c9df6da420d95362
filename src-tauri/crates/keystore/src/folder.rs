//! The folder of sealed keys, as the port that `field` asks.
//!
//! Each key is a file `NAME.sealed`; the database keeps its name alone, as it does for an unsealed key. So a copy of the
//! database signs nothing, and a key that is taken over keeps its name.

use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

use field::host::{HostEntropy, KeyName, PrivateFolder};
use field::{Kept, Keys, KeysError};
use zeroize::Zeroizing;

use crate::files::{Files, put, refused};
use crate::marker::Marker;
use crate::{KeyStore, form};

/// Frozen: phones hold files with this ending.
pub(crate) const SEALED: &str = "sealed";

/// Secret keys in a folder that only its owner can read, each sealed by a platform's key store.
///
/// The folder must lie outside what the platform's backups take.
#[derive(Debug)]
pub struct SealedFolder<S, F = PrivateFolder> {
    pub(crate) store: S,
    pub(crate) files: F,
    /// True once the keys of an earlier install were looked for.
    begun: Mutex<bool>,
}

impl<S: KeyStore> SealedFolder<S> {
    /// Uses this folder, which is made when something first goes into it.
    #[must_use]
    pub fn at(folder: impl AsRef<Path>, store: S) -> SealedFolder<S> {
        SealedFolder::over(PrivateFolder::at(folder), store)
    }
}

impl<S: KeyStore, F: Files> SealedFolder<S, F> {
    /// Uses these files.
    #[must_use]
    pub fn over(files: F, store: S) -> SealedFolder<S, F> {
        SealedFolder { store, files, begun: Mutex::new(false) }
    }

    /// One thing at a time, and before the first of them whatever an earlier install left is taken over.
    fn begin(&self) -> MutexGuard<'_, bool> {
        let mut begun = self.begun.lock().unwrap_or_else(PoisonError::into_inner);
        if !*begun {
            self.take_over();
            *begun = true;
        }
        begun
    }

    /// Seals a secret under a name, and opens it to check. A key store that seals what it does not open would have every
    /// start begin a new log.
    pub(crate) fn keep(&self, name: &KeyName, secret: &[u8; 32]) -> Result<(), KeysError> {
        let marker = Marker::read_or_make(&self.files)?;
        let ciphered = self.store.seal(secret, &form::bound_to(&marker))?;
        put(&self.files, &name.file(SEALED), &form::write(&ciphered)).map_err(refused)?;
        match self.opened(name) {
            Ok(opened) if opened.as_slice() == secret => Ok(()),
            Err(refused @ KeysError::Refused { .. }) => Err(refused),
            Ok(_) | Err(KeysError::Lost) => Err(refused("it does not open what it has just sealed")),
        }
    }

    /// Opens the sealed key of this name.
    pub(crate) fn opened(&self, name: &KeyName) -> Result<Zeroizing<Vec<u8>>, KeysError> {
        let sealed = self.files.read(&name.file(SEALED)).map_err(refused)?;
        let ciphered = form::read(&sealed.ok_or(KeysError::Lost)?)?;
        let marker = Marker::read(&self.files)?.ok_or(KeysError::Lost)?;
        self.store.open(&ciphered, &form::bound_to(&marker))
    }
}

impl<S: KeyStore, F: Files> Keys for SealedFolder<S, F> {
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError> {
        let _one = self.begin();
        let name = KeyName::draw(&HostEntropy).map_err(refused)?;
        self.keep(&name, secret)?;
        Ok(name.kept())
    }

    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError> {
        let _one = self.begin();
        let name = KeyName::read(sealed).ok_or(KeysError::Lost)?;
        // A key that could not be taken over goes on signing: the next start tries again.
        let secret = match self.unsealed(&name)? {
            Some(secret) => secret,
            None => self.opened(&name)?,
        };
        <[u8; 32]>::try_from(secret.as_slice()).map_err(|_| KeysError::Lost)
    }

    fn kept(&self, sealed: &[u8]) -> Kept {
        let _one = self.begin();
        let unsealed = KeyName::read(sealed).map(|name| self.unsealed(&name));
        if matches!(unsealed, Some(Ok(None))) { Kept::Sealed } else { Kept::InAFile }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marker;
    use crate::stand_in::StandIn;

    #[test]
    fn a_key_opens_here_and_is_in_no_file() {
        let here = tempfile::tempdir().unwrap();
        let store = StandIn::default();
        let kept = SealedFolder::at(here.path(), store.clone()).seal(&[7; 32]).unwrap();
        let keys = SealedFolder::at(here.path(), store);
        assert_eq!((keys.open(&kept), keys.kept(&kept)), (Ok([7; 32]), Kept::Sealed));
        let files = PrivateFolder::at(here.path());
        let names = files.names().unwrap();
        assert_eq!(names.len(), 2, "the key and the marker, and nothing else: {names:?}");
        for name in names {
            let bytes = files.read(&name).unwrap().unwrap();
            assert!(!bytes.windows(4).any(|bytes| bytes == [7; 4]), "{name}");
        }
    }

    #[test]
    fn without_its_marker_or_with_another_it_is_lost() {
        let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let store = StandIn::default();
        let keys = SealedFolder::at(here.path(), store.clone());
        let kept = keys.seal(&[7; 32]).unwrap();
        // Another install, whose key store is the same: a file copied there does not open.
        SealedFolder::at(there.path(), store.clone()).seal(&[8; 32]).unwrap();
        let file = KeyName::read(&kept).unwrap().file(SEALED);
        std::fs::copy(here.path().join(&file), there.path().join(&file)).unwrap();
        assert_eq!(SealedFolder::at(there.path(), store).open(&kept), Err(KeysError::Lost));

        std::fs::remove_file(here.path().join(marker::FILE)).unwrap();
        assert_eq!(keys.open(&kept), Err(KeysError::Lost));
    }

    #[test]
    fn a_key_store_that_lost_its_key_loses_ours_and_one_that_refuses_does_not() {
        let here = tempfile::tempdir().unwrap();
        let store = StandIn::default();
        let keys = SealedFolder::at(here.path(), store.clone());
        let kept = keys.seal(&[7; 32]).unwrap();
        store.refuse(true);
        assert!(matches!(keys.open(&kept), Err(KeysError::Refused { .. })));
        assert!(matches!(keys.seal(&[8; 32]), Err(KeysError::Refused { .. })));
        store.refuse(false);
        assert_eq!(keys.open(&kept), Ok([7; 32]));
        store.forget();
        assert_eq!(keys.open(&kept), Err(KeysError::Lost));
        let next = keys.seal(&[8; 32]).unwrap();
        assert_eq!(keys.open(&next), Ok([8; 32]));
    }

    #[test]
    fn what_it_seals_and_does_not_open_is_no_key() {
        let here = tempfile::tempdir().unwrap();
        let store = StandIn::default();
        store.seal_wrongly();
        let sealed = SealedFolder::at(here.path(), store).seal(&[7; 32]);
        assert_eq!(sealed, Err(refused("it does not open what it has just sealed")));
    }
}
