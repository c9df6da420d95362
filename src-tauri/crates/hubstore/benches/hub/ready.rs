//! Fresh stores.

use std::sync::atomic::{AtomicU32, Ordering};

use hubstore::{AnyStore, Connecting, Opening};

static NEXT: AtomicU32 = AtomicU32::new(1);

/// A fresh store; a file's folder goes with it.
pub(crate) struct Ready {
    pub(crate) store: AnyStore,
    pub(crate) kind: &'static str,
    _folder: Option<tempfile::TempDir>,
}

pub(crate) async fn open(kind: &'static str) -> Ready {
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    if kind == "sqlite" {
        // Beside the build, not in the folder for temporary files: that may be memory, which syncs for nothing.
        let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
        let store = Opening::at(folder.path().join("hub.db")).open().unwrap();
        return Ready { store: AnyStore::Sqlite(store), kind, _folder: Some(folder) };
    }
    let address = std::env::var("HEADMARK_TEST_POSTGRES_SOCKET")
        .or_else(|_| std::env::var("HEADMARK_TEST_POSTGRES"))
        .unwrap_or_else(|_| panic!("HEADMARK_TEST_POSTGRES names no server: run tests/long hubstore"));
    let schema = format!("b{}_{number}", std::process::id());
    let store = Connecting::to(&address).schema(&schema).connections(4).open().await.unwrap();
    Ready { store: AnyStore::Postgres(store), kind, _folder: None }
}
