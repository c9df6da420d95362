//! What only a SQLite file does.

use std::path::Path;

use hubstore::{Arrival, Error, Ledger, Opening, Outcome};

use crate::writer::{Writer, batch};

#[tokio::test]
async fn a_backup_is_the_whole_store_and_the_hub_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("hub.db")).open().unwrap();
    let mut asha = Writer::number(1);
    let entries: Vec<_> = (0..50).map(|at| asha.say(90, &at.to_string())).collect();
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    let copy = folder.path().join("copy.db");
    store.backup(&copy).await.unwrap();
    assert_eq!(store.backup(&copy).await, Err(Error::NotEmpty), "a backup is not written over");
    store.ingest(batch(&[], &[asha.say(90, "later")])).await.unwrap();
    let names: Vec<_> =
        std::fs::read_dir(folder.path()).unwrap().map(|file| file.unwrap().file_name()).collect();
    assert!(names.iter().all(|name| !name.to_string_lossy().contains("partial")), "{names:?}");
    let restored = Opening::at(&copy).open().unwrap();
    restored.check().await.unwrap();
    assert_eq!(restored.newest().await.unwrap(), Arrival(50));
    let missing = restored.ingest(batch(&[], &entries)).await.unwrap();
    assert_eq!(missing.outcomes, vec![Outcome::Already; 50]);
}

#[tokio::test]
async fn what_was_committed_is_there_after_opening_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hub.db");
    let mut asha = Writer::number(1);
    let entry = asha.say(90, "kept");
    let store = Opening::at(&path).open().unwrap();
    store.ingest(batch(&[&asha], std::slice::from_ref(&entry))).await.unwrap();
    drop(store);
    let store = Opening::at(&path).open().unwrap();
    assert_eq!(store.entry(entry.id).await.unwrap().unwrap().bytes, entry.bytes);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn two_processes_take_turns_on_one_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hub.db");
    let stores = [Opening::at(&path).open().unwrap(), Opening::at(&path).open().unwrap()];
    let work = async |store: &hubstore::Sqlite, number: u8| {
        let mut writer = Writer::number(number);
        for at in 0..40 {
            let entry = writer.say(90, &at.to_string());
            let done = store.ingest(batch(&[&writer], &[entry]));
            assert!(matches!(done.await.unwrap().outcomes[0], Outcome::New(_)));
        }
    };
    tokio::join!(work(&stores[0], 1), work(&stores[1], 2));
    assert_eq!(stores[0].newest().await.unwrap(), Arrival(80));
}

#[tokio::test]
async fn a_full_storage_is_said_and_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hub.db");
    let store = Opening::at(&path).most_pages(120).open().unwrap();
    let mut asha = Writer::number(1);
    store.ingest(batch(&[&asha], &[])).await.unwrap();
    let mut kept = Vec::new();
    let refused = loop {
        let back = asha.link;
        let entries: Vec<_> = (0..20).map(|_| asha.say(90, &"x".repeat(200))).collect();
        match store.ingest(batch(&[], &entries)).await {
            Ok(_) => kept.extend(entries),
            Err(error) => {
                asha.link = back;
                break (error, entries);
            }
        }
        assert!(kept.len() < 10_000, "it has to become full");
    };
    assert_eq!(refused.0, Error::Full);
    assert!(refused.0.is_retryable());
    let ids: Vec<_> = kept.iter().map(|entry| entry.id).collect();
    assert!(store.holds(&ids).await.unwrap().iter().all(|held| *held));
    assert_eq!(store.newest().await.unwrap().0, kept.len() as u64);
    drop(store);
    let store = Opening::at(&path).open().unwrap();
    let done = store.ingest(batch(&[], &refused.1)).await.unwrap();
    assert!(done.outcomes.iter().all(|outcome| matches!(outcome, Outcome::New(_))));
}

#[tokio::test]
async fn an_entry_is_never_changed_by_any_statement() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hub.db");
    let store = Opening::at(&path).open().unwrap();
    let mut asha = Writer::number(1);
    let entry = asha.say(90, "kept");
    store.ingest(batch(&[&asha], &[entry])).await.unwrap();
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection.pragma_update(None, "recursive_triggers", true).unwrap();
    for sql in [
        "UPDATE entry SET kind = 1",
        "DELETE FROM entry",
        "INSERT OR REPLACE INTO entry (arrival, log, seq, hash, bytes) \
         SELECT arrival, log, seq, hash, x'00' FROM entry",
    ] {
        assert!(connection.execute_batch(sql).is_err(), "{sql}");
    }
}

#[test]
fn a_newer_file_and_another_programs_are_left_as_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hub.db");
    drop(Opening::at(&path).open().unwrap());
    change(&path, "PRAGMA user_version = 99");
    let before = std::fs::read(&path).unwrap();
    assert_eq!(Opening::at(&path).open().unwrap_err(), Error::Newer { found: 99, known: 2 });
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let other = folder.path().join("other.db");
    change(&other, "CREATE TABLE mine (one INTEGER)");
    assert!(matches!(Opening::at(&other).open().unwrap_err(), Error::Foreign { .. }));
    let text = folder.path().join("text.db");
    std::fs::write(&text, "no database at all ".repeat(100)).unwrap();
    assert!(matches!(Opening::at(&text).open().unwrap_err(), Error::Unreadable { .. }));
}

fn change(path: &Path, sql: &str) {
    rusqlite::Connection::open(path).unwrap().execute_batch(sql).unwrap();
}
