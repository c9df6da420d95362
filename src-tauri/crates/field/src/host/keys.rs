//! Secret keys in a folder that only its owner can read, apart from the database.
//!
//! What the store keeps as "the sealed key" is only the name of a file here. A copy of the database alone, as
//! a backup of the app's data takes it, therefore signs nothing.

use std::path::Path;

use super::{HostEntropy, KeyName, PrivateFolder};
use crate::{Kept, Keys, KeysError};

/// A folder of secret keys, each in a file of its own that nothing seals.
#[derive(Debug, Clone)]
pub struct KeyFolder {
    folder: PrivateFolder,
}

impl KeyFolder {
    /// The ending of a file with an unsealed key. Frozen: a key store that takes over such files looks for it.
    pub const ENDING: &'static str = "key";

    /// Uses this folder, which is made when a key first goes into it.
    #[must_use]
    pub fn at(folder: impl AsRef<Path>) -> KeyFolder {
        KeyFolder { folder: PrivateFolder::at(folder) }
    }
}

impl Keys for KeyFolder {
    /// The file and its name are synced: a log whose key was lost in a power cut could never be continued.
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError> {
        let name = KeyName::draw(&HostEntropy).map_err(|error| refused(&error))?;
        let written = self.folder.write(&name.file(KeyFolder::ENDING), secret);
        written.and_then(|()| self.folder.sync()).map_err(|error| refused(&error))?;
        Ok(name.kept())
    }

    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError> {
        let name = KeyName::read(sealed).ok_or(KeysError::Lost)?;
        let secret = self.folder.read(&name.file(KeyFolder::ENDING)).map_err(|error| refused(&error))?;
        secret.and_then(|secret| secret.try_into().ok()).ok_or(KeysError::Lost)
    }

    fn kept(&self, _: &[u8]) -> Kept {
        Kept::InAFile
    }
}

fn refused(error: &dyn std::error::Error) -> KeysError {
    KeysError::Refused { what: error.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sealed_key_opens_here_and_nowhere_else() {
        let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let keys = KeyFolder::at(here.path().join("keys"));
        let sealed = keys.seal(&[7; 32]).unwrap();
        assert_eq!(keys.open(&sealed), Ok([7; 32]));
        assert_eq!(KeyFolder::at(there.path()).open(&sealed), Err(KeysError::Lost));
        assert!(!sealed.windows(4).any(|bytes| bytes == [7; 4]));
    }

    #[test]
    fn what_is_no_name_is_no_key() {
        assert_eq!(KeyFolder::at("keys").open(b"anything"), Err(KeysError::Lost));
    }
}
