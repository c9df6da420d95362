//! The hub's folder: what lies where.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::Error;
use crate::keys::{make_folder, replace_private};

/// The hub's folder.
#[derive(Debug, Clone)]
pub struct Folder(PathBuf);

/// What is known of a hub before its database is opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// The form of this file.
    pub format: String,
    /// What people call the hub; it stands in its certificate.
    pub label: String,
    /// The address that phones reach it by, `https://hub.marrowby.example:8443`.
    pub address: String,
}

/// What stands under `format` in the settings.
pub const SETTINGS_FORMAT: &str = "headmark-hub/1";

impl Folder {
    /// Names a folder.
    #[must_use]
    pub fn at(path: impl Into<PathBuf>) -> Folder {
        Folder(path.into())
    }

    /// Returns its path.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Returns the settings' file.
    #[must_use]
    pub fn settings_file(&self) -> PathBuf {
        self.0.join("hub.json")
    }

    /// Returns the sealed organisation key, where it was not moved away yet.
    #[must_use]
    pub fn organisation_file(&self) -> PathBuf {
        self.0.join("organisation.key")
    }

    /// Returns the hub's own key.
    #[must_use]
    pub fn hub_key(&self) -> PathBuf {
        self.0.join("keys").join("hub.key")
    }

    /// Returns the hub's next key, while the hub is being given it.
    #[must_use]
    pub fn next_hub_key(&self) -> PathBuf {
        self.0.join("keys").join("hub-next.key")
    }

    /// Returns the key for TLS.
    #[must_use]
    pub fn tls_key(&self) -> PathBuf {
        self.0.join("keys").join("tls.key.pem")
    }

    /// Returns the next key for TLS, which phones are told of ahead.
    #[must_use]
    pub fn next_tls_key(&self) -> PathBuf {
        self.0.join("keys").join("tls-next.key.pem")
    }

    /// Returns the self-signed certificate of the key for TLS.
    #[must_use]
    pub fn tls_certificate(&self) -> PathBuf {
        self.0.join("keys").join("tls.cert.pem")
    }

    /// Returns the database, where no other is named.
    #[must_use]
    pub fn database(&self) -> PathBuf {
        self.0.join("hub.db")
    }

    /// Returns the folder of photos, where no other store is named.
    #[must_use]
    pub fn photos(&self) -> PathBuf {
        self.0.join("photos")
    }

    /// Makes the folder, and the one for keys in it.
    ///
    /// # Errors
    ///
    /// [`Error::AlreadyThere`], or when it cannot be made.
    pub fn make(&self) -> Result<(), Error> {
        if self.settings_file().exists() || self.hub_key().exists() {
            return Err(Error::AlreadyThere(self.0.clone()));
        }
        make_folder(&self.0)?;
        make_folder(&self.0.join("keys"))
    }

    /// Reads the settings.
    ///
    /// # Errors
    ///
    /// [`Error::NotThere`], or what is wrong with the file.
    pub fn settings(&self) -> Result<Settings, Error> {
        let path = self.settings_file();
        if !path.exists() {
            return Err(Error::NotThere(self.0.clone()));
        }
        let text = std::fs::read(&path).map_err(Error::file(&path, "read"))?;
        let other = |why: String| Error::OtherForm { what: "The hub's settings (hub.json)", why };
        let settings: Settings = serde_json::from_slice(&text).map_err(|error| other(error.to_string()))?;
        if settings.format == SETTINGS_FORMAT {
            Ok(settings)
        } else {
            Err(other("it names another format".into()))
        }
    }

    /// Writes the settings. They come last when a hub is made: a folder without them holds no hub.
    ///
    /// # Errors
    ///
    /// When they cannot be written.
    pub fn put_settings(&self, settings: &Settings) -> Result<(), Error> {
        let text = serde_json::to_vec_pretty(settings)
            .map_err(|error| Error::OtherForm { what: "The hub's settings", why: error.to_string() })?;
        replace_private(&self.settings_file(), &text)
    }

    /// Takes the folder's database for this process; it is given back when the lock is dropped. With a database of its
    /// own in the folder a hub is one process.
    ///
    /// # Errors
    ///
    /// [`Error::InUse`].
    pub fn lock(&self) -> Result<FolderLock, Error> {
        let path = self.0.join("hub.lock");
        let file = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(&path)
            .map_err(Error::file(&path, "opened"))?;
        match file.try_lock() {
            Ok(()) => Ok(FolderLock(file)),
            Err(TryLockError::WouldBlock) => Err(Error::InUse(self.0.clone())),
            Err(TryLockError::Error(cause)) => Err(Error::File { path, done: "locked", cause }),
        }
    }
}

/// The folder as long as one process has it.
#[derive(Debug)]
pub struct FolderLock(#[allow(dead_code, reason = "held for its lock, which ends with it")] File);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_process_is_refused_until_the_first_lets_go() {
        let here = tempfile::tempdir().unwrap();
        let folder = Folder::at(here.path());
        let first = folder.lock().unwrap();
        assert!(matches!(folder.lock(), Err(Error::InUse(_))));
        drop(first);
        assert!(folder.lock().is_ok());
    }

    #[test]
    fn a_folder_with_a_hub_is_not_made_again() {
        let here = tempfile::tempdir().unwrap();
        let folder = Folder::at(here.path().join("hub"));
        folder.make().unwrap();
        let settings = Settings {
            format: SETTINGS_FORMAT.into(),
            label: "Marrowby".into(),
            address: "https://hub.marrowby.example:8443".into(),
        };
        folder.put_settings(&settings).unwrap();
        assert_eq!(folder.settings().unwrap(), settings);
        assert!(matches!(folder.make(), Err(Error::AlreadyThere(_))));
        assert!(matches!(Folder::at(here.path()).settings(), Err(Error::NotThere(_))));
    }
}
