//! The install marker: which install of the app this is.
//!
//! It lies where the platform's backups do not reach, and is made when the first key is sealed, which is at the first
//! start. A key is bound to it, so that a sealed key that was copied to another install does not open there, even if
//! one key store should serve both.

use field::host::HostEntropy;
use field::{Entropy, KeysError};

use crate::files::{Files, put, refused};

/// Sixteen random bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Marker([u8; 16]);

/// Frozen: installs hold a file of this name.
pub(crate) const FILE: &str = "install.marker";

impl Marker {
    #[cfg(test)]
    pub(crate) fn of(bytes: [u8; 16]) -> Marker {
        Marker(bytes)
    }

    pub(crate) fn bytes(&self) -> &[u8] {
        &self.0
    }

    /// Reads it. One that is not whole is none: no key was ever bound to it.
    pub(crate) fn read(files: &impl Files) -> Result<Option<Marker>, KeysError> {
        let bytes = files.read(FILE).map_err(refused)?;
        Ok(bytes.and_then(|bytes| bytes.try_into().ok()).map(Marker))
    }

    /// Reads it, or makes one.
    pub(crate) fn read_or_make(files: &impl Files) -> Result<Marker, KeysError> {
        if let Some(marker) = Marker::read(files)? {
            return Ok(marker);
        }
        let mut bytes = [0; 16];
        HostEntropy.fill(&mut bytes).map_err(refused)?;
        put(files, FILE, &bytes).map_err(refused)?;
        Ok(Marker(bytes))
    }
}

#[cfg(test)]
mod tests {
    use field::host::PrivateFolder;

    use super::*;

    #[test]
    fn it_is_made_once_and_is_another_on_another_install() {
        let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let (here, there) = (PrivateFolder::at(here.path()), PrivateFolder::at(there.path()));
        assert_eq!(Marker::read(&here), Ok(None));
        let marker = Marker::read_or_make(&here).unwrap();
        assert_eq!(Marker::read_or_make(&here), Ok(marker.clone()));
        assert_eq!(Marker::read(&here), Ok(Some(marker.clone())));
        assert_ne!(Marker::read_or_make(&there), Ok(marker));
        assert_eq!(here.names().unwrap(), [FILE]);
    }

    #[test]
    fn one_that_is_not_whole_is_made_anew() {
        let here = tempfile::tempdir().unwrap();
        let here = PrivateFolder::at(here.path());
        here.write(FILE, &[7; 15]).unwrap();
        assert_eq!(Marker::read(&here), Ok(None));
        let marker = Marker::read_or_make(&here).unwrap();
        assert_eq!(Marker::read(&here), Ok(Some(marker)));
    }
}
