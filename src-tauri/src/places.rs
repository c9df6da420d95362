//! Where things lie on this device.
//!
//! On a desktop four variables move them, so that a test or a demonstration has a phone of its own:
//! `HEADMARK_DATA` (the data folder), `HEADMARK_EXPORTS` (exported records), `HEADMARK_MOST_PAGES` (the
//! most pages of 4 KiB that the data file may have, so that a full storage can be tried), and `HEADMARK_FRAMES`
//! (a folder of pictures that stand in for the camera, or the word `refused`). A phone looks at none of them.

use std::path::PathBuf;

use tauri::{AppHandle, Manager, Runtime};

/// Where things lie.
#[derive(Debug, Clone)]
pub(crate) struct Places {
    /// The folder of the data file.
    pub(crate) data: PathBuf,
    /// The folder of exported records.
    pub(crate) exports: PathBuf,
    /// The most pages the data file may have; none for no limit of ours.
    pub(crate) most_pages: Option<u32>,
    /// What stands in for the camera; none for the device's own.
    pub(crate) frames: Option<PathBuf>,
}

impl Places {
    /// Asks the environment and the platform.
    pub(crate) fn of<R: Runtime>(app: &AppHandle<R>) -> tauri::Result<Places> {
        let data = match variable("HEADMARK_DATA") {
            Some(data) => PathBuf::from(data),
            None => app.path().app_data_dir()?,
        };
        let exports = match variable("HEADMARK_EXPORTS") {
            Some(exports) => PathBuf::from(exports),
            // Not every desktop names a folder for documents.
            None => app.path().document_dir().unwrap_or_else(|_| data.join("exports")),
        };
        let most_pages = variable("HEADMARK_MOST_PAGES").and_then(|pages| pages.to_str()?.parse().ok());
        let frames = variable("HEADMARK_FRAMES").map(PathBuf::from);
        Ok(Places { data, exports, most_pages, frames })
    }

    /// The data file.
    pub(crate) fn file(&self) -> PathBuf {
        self.data.join("headmark.db")
    }

    /// The folder of the signing key, outside what the platform's backups take: a restored phone must begin
    /// a new log. On Android it is the one that `Context.getNoBackupFilesDir` names.
    pub(crate) fn keys(&self) -> PathBuf {
        self.data.join(if cfg!(target_os = "android") { "no_backup" } else { "keys" })
    }
}

fn variable(name: &str) -> Option<std::ffi::OsString> {
    if cfg!(mobile) {
        return None;
    }
    std::env::var_os(name).filter(|value| !value.is_empty())
}
