//! A store and whatever has to last as long as it.

use hubstore::AnyStore;

/// A fresh store.
pub(crate) struct Home {
    pub(crate) store: AnyStore,
    _folder: Option<tempfile::TempDir>,
}

impl Home {
    pub(crate) fn of(store: AnyStore) -> Home {
        Home { store, _folder: None }
    }

    #[allow(dead_code, reason = "only a file has a folder")]
    pub(crate) fn in_folder(store: AnyStore, folder: tempfile::TempDir) -> Home {
        Home { store, _folder: Some(folder) }
    }
}
