//! Secret keys in a folder that only its owner can read, apart from the database.
//!
//! What the store keeps as "the sealed key" is only the name of a file here. A copy of the database alone, as
//! a backup of the app's data takes it, therefore signs nothing.

use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::HostEntropy;
use crate::{Entropy, Keys, KeysError};

/// A folder of secret keys.
#[derive(Debug, Clone)]
pub struct KeyFolder {
    folder: PathBuf,
}

impl KeyFolder {
    /// Uses this folder, which is made when a key first goes into it.
    #[must_use]
    pub fn at(folder: impl AsRef<Path>) -> KeyFolder {
        KeyFolder { folder: folder.as_ref().to_owned() }
    }

    /// Returns the file a sealed key names, if it can be one of ours.
    fn file(&self, sealed: &[u8]) -> Option<PathBuf> {
        let name = std::str::from_utf8(sealed).ok()?.strip_prefix(MARK)?;
        let plain = name.len() == 32 && name.bytes().all(|byte| byte.is_ascii_hexdigit());
        plain.then(|| self.folder.join(format!("{name}.key")))
    }
}

const MARK: &str = "key-file:";

impl Keys for KeyFolder {
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError> {
        let mut number = [0; 16];
        HostEntropy.fill(&mut number).map_err(|error| refused(&error))?;
        let name: String = number.iter().map(|byte| format!("{byte:02x}")).collect();
        make_private(&self.folder).map_err(|error| refused(&error))?;
        let path = self.folder.join(format!("{name}.key"));
        write_private(&path, secret).map_err(|error| refused(&error))?;
        Ok(format!("{MARK}{name}").into_bytes())
    }

    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError> {
        let path = self.file(sealed).ok_or(KeysError::Lost)?;
        match fs::read(path) {
            Ok(secret) => secret.try_into().map_err(|_| KeysError::Lost),
            Err(error) if error.kind() == ErrorKind::NotFound => Err(KeysError::Lost),
            Err(error) => Err(refused(&error)),
        }
    }
}

fn refused(error: &dyn std::error::Error) -> KeysError {
    KeysError::Refused { what: error.to_string() }
}

fn make_private(folder: &Path) -> std::io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

/// Writes a file that only its owner may read from its first byte on, and syncs it and its name: a log whose
/// key was lost in a power cut could never be continued.
fn write_private(path: &Path, secret: &[u8]) -> std::io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(path)?;
    file.write_all(secret)?;
    file.sync_all()?;
    #[cfg(unix)]
    if let Some(folder) = path.parent() {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
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
    fn a_name_that_leads_out_of_the_folder_is_no_key() {
        let keys = KeyFolder::at("keys");
        assert_eq!(keys.open(b"key-file:../../../../../../../etc/hostname"), Err(KeysError::Lost));
        assert_eq!(keys.open(b"anything"), Err(KeysError::Lost));
    }

    #[cfg(unix)]
    #[test]
    fn nobody_else_may_read_it() {
        use std::os::unix::fs::PermissionsExt;
        let here = tempfile::tempdir().unwrap();
        let folder = here.path().join("keys");
        KeyFolder::at(&folder).seal(&[7; 32]).unwrap();
        let file = fs::read_dir(&folder).unwrap().next().unwrap().unwrap();
        assert_eq!(fs::metadata(&folder).unwrap().permissions().mode() & 0o777, 0o700);
        assert_eq!(file.metadata().unwrap().permissions().mode() & 0o777, 0o600);
    }
}
