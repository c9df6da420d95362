//! A folder that only its owner can read, whose files are there whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Result, Write};
use std::path::{Path, PathBuf};

/// A folder of small files that nobody else may read.
///
/// Its names are the caller's own: none of them comes from outside.
#[derive(Debug, Clone)]
pub struct PrivateFolder(PathBuf);

impl PrivateFolder {
    /// Uses this folder, which is made when something first goes into it.
    #[must_use]
    pub fn at(folder: impl AsRef<Path>) -> PrivateFolder {
        PrivateFolder(folder.as_ref().to_owned())
    }

    /// Returns the names in it, in their order.
    ///
    /// # Errors
    ///
    /// What the system says; a folder that is not there has no names.
    pub fn names(&self) -> Result<Vec<String>> {
        let entries = match fs::read_dir(&self.0) {
            Ok(entries) => entries,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(error),
        };
        let names = entries.map(|entry| Ok(entry?.file_name().to_string_lossy().into_owned()));
        let mut names = names.collect::<Result<Vec<_>>>()?;
        names.sort();
        Ok(names)
    }

    /// Reads a file; none where there is none.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub fn read(&self, name: &str) -> Result<Option<Vec<u8>>> {
        match fs::read(self.0.join(name)) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Writes a new file that only its owner may read from its first byte on, and syncs what is in it. Its name is
    /// safe only after [`PrivateFolder::sync`].
    ///
    /// # Errors
    ///
    /// What the system says; also where the file is there already.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<()> {
        self.make()?;
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut file = options.open(self.0.join(name))?;
        file.write_all(bytes)?;
        file.sync_all()
    }

    /// Gives a file another name, in place of what had it.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub fn rename(&self, from: &str, to: &str) -> Result<()> {
        fs::rename(self.0.join(from), self.0.join(to))
    }

    /// Removes a file, if it is there.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub fn remove(&self, name: &str) -> Result<()> {
        match fs::remove_file(self.0.join(name)) {
            Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }

    /// Syncs the names: what was written, renamed or removed before stays so through a power cut.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub fn sync(&self) -> Result<()> {
        if cfg!(unix) { File::open(&self.0)?.sync_all() } else { Ok(()) }
    }

    fn make(&self) -> Result<()> {
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        builder.create(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_come_go_and_change_their_names() {
        let here = tempfile::tempdir().unwrap();
        let folder = PrivateFolder::at(here.path().join("private"));
        assert_eq!((folder.names().unwrap(), folder.read("a").unwrap()), (Vec::new(), None));
        folder.write("b", b"two").unwrap();
        folder.write("a", b"one").unwrap();
        assert_eq!(folder.write("a", b"again").unwrap_err().kind(), ErrorKind::AlreadyExists);
        folder.sync().unwrap();
        assert_eq!(folder.names().unwrap(), ["a", "b"]);
        folder.rename("a", "b").unwrap();
        folder.remove("a").unwrap();
        assert_eq!(folder.read("b").unwrap().as_deref(), Some(&b"one"[..]));
        folder.remove("b").unwrap();
        assert_eq!(folder.names().unwrap(), Vec::<String>::new());
    }

    #[cfg(unix)]
    #[test]
    fn nobody_else_may_read_it() {
        use std::os::unix::fs::PermissionsExt;
        let here = tempfile::tempdir().unwrap();
        let path = here.path().join("private");
        PrivateFolder::at(&path).write("a", b"one").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!((mode(&path), mode(&path.join("a"))), (0o700, 0o600));
    }
}
