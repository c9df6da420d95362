//! Files that only their owner may read, synced with their names: a log whose key was lost in a power cut could never
//! be continued.

use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::Path;

use zeroize::Zeroizing;

use crate::Error;

/// Makes a folder that only its owner may enter.
///
/// # Errors
///
/// When it cannot be made.
pub fn make_folder(folder: &Path) -> Result<(), Error> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder).map_err(Error::file(folder, "made"))
}

/// Writes a new file that only its owner may read from its first byte on.
///
/// # Errors
///
/// When there is one already, or it cannot be written.
pub fn write_private(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    write(path, bytes).map_err(Error::file(path, "written"))
}

/// Puts a file in the place of another, whole or not at all.
///
/// # Errors
///
/// When it cannot be written; the file that was there is then still there.
pub fn replace_private(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    let beside = path.with_extension("new");
    // What a run that was cut off left behind.
    match fs::remove_file(&beside) {
        Err(cause) if cause.kind() != std::io::ErrorKind::NotFound => {
            return Err(Error::File { path: beside, done: "removed", cause });
        }
        _ => {}
    }
    write_private(&beside, bytes)?;
    fs::rename(&beside, path).map_err(Error::file(path, "replaced"))?;
    sync_folder(path).map_err(Error::file(path, "synced"))
}

/// Reads a secret key of 32 bytes.
///
/// # Errors
///
/// When it cannot be read or is no key.
pub fn read_key(path: &Path) -> Result<Zeroizing<[u8; 32]>, Error> {
    let bytes = Zeroizing::new(fs::read(path).map_err(Error::file(path, "read"))?);
    let key = <[u8; 32]>::try_from(bytes.as_slice())
        .map_err(|_| Error::OtherForm { what: "The hub's key", why: "it has not 32 bytes".into() })?;
    Ok(Zeroizing::new(key))
}

fn write(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(path)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    sync_folder(path)
}

fn sync_folder(path: &Path) -> std::io::Result<()> {
    #[cfg(unix)]
    if let Some(folder) = path.parent() {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn nobody_else_may_read_it() {
        use std::os::unix::fs::PermissionsExt;
        let here = tempfile::tempdir().unwrap();
        let folder = here.path().join("keys");
        make_folder(&folder).unwrap();
        let path = folder.join("a.key");
        write_private(&path, &[7; 32]).unwrap();
        assert_eq!(fs::metadata(&folder).unwrap().permissions().mode() & 0o777, 0o700);
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
        replace_private(&path, &[8; 32]).unwrap();
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
        assert_eq!(*read_key(&path).unwrap(), [8; 32]);
    }

    #[test]
    fn a_file_that_is_there_is_not_overwritten() {
        let here = tempfile::tempdir().unwrap();
        let path = here.path().join("a.key");
        write_private(&path, &[7; 32]).unwrap();
        assert!(write_private(&path, &[8; 32]).is_err());
        assert_eq!(*read_key(&path).unwrap(), [7; 32]);
    }

    #[test]
    fn what_a_cut_off_run_left_does_not_stand_in_the_way() {
        let here = tempfile::tempdir().unwrap();
        let path = here.path().join("a.key");
        fs::write(path.with_extension("new"), "half").unwrap();
        replace_private(&path, &[8; 32]).unwrap();
        assert_eq!(*read_key(&path).unwrap(), [8; 32]);
    }
}
