//! The few things that are done with the folder of sealed keys.

use std::io::Result;

use field::KeysError;
use field::host::PrivateFolder;

/// A folder of small private files. [`PrivateFolder`] is the real one; tests cut the power of another.
pub trait Files: Send + Sync {
    /// Returns the names in it.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn names(&self) -> Result<Vec<String>>;

    /// Reads a file; none where there is none.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn read(&self, name: &str) -> Result<Option<Vec<u8>>>;

    /// Writes a new file and syncs what is in it, not its name.
    ///
    /// # Errors
    ///
    /// What the system says; also where it is there already.
    fn write(&self, name: &str, bytes: &[u8]) -> Result<()>;

    /// Gives a file another name, in place of what had it.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn rename(&self, from: &str, to: &str) -> Result<()>;

    /// Removes a file, if it is there.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn remove(&self, name: &str) -> Result<()>;

    /// Syncs the names.
    ///
    /// # Errors
    ///
    /// What the system says.
    fn sync(&self) -> Result<()>;
}

impl Files for PrivateFolder {
    fn names(&self) -> Result<Vec<String>> {
        self.names()
    }

    fn read(&self, name: &str) -> Result<Option<Vec<u8>>> {
        self.read(name)
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<()> {
        self.write(name, bytes)
    }

    fn rename(&self, from: &str, to: &str) -> Result<()> {
        self.rename(from, to)
    }

    fn remove(&self, name: &str) -> Result<()> {
        self.remove(name)
    }

    fn sync(&self) -> Result<()> {
        self.sync()
    }
}

/// Puts a file in place of what has its name: whole, through a power cut at any moment.
pub(crate) fn put(files: &impl Files, name: &str, bytes: &[u8]) -> Result<()> {
    let part = format!("{name}{PART}");
    files.remove(&part)?;
    files.write(&part, bytes)?;
    files.rename(&part, name)?;
    files.sync()
}

const PART: &str = ".part";

/// What the system says becomes what the key store says: it may go away, so nothing is given up for it.
pub(crate) fn refused(error: impl std::fmt::Display) -> KeysError {
    KeysError::Refused { what: error.to_string() }
}
