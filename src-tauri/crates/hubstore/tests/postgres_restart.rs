//! The server breaks off and comes back, as by a crash, while a hub writes: nothing is lost and nothing is in twice.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a panic here is the message")]

#[path = "postgres/server.rs"]
#[allow(dead_code, reason = "this test asks for a part of it")]
mod server;
#[path = "contract/writer.rs"]
#[allow(dead_code, reason = "this test asks for a part of it")]
mod writer;

use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use hubstore::{Error, Ledger, NewEntry, Outcome, Postgres};
use server::Place;
use writer::{Writer, batch};

/// Brings one entry after the other until told to stop; each as often as it takes. Returns what was said to be in, and
/// how often it had to be brought again.
async fn bring(store: Arc<Postgres>, number: u8, going: Arc<AtomicBool>) -> (Vec<NewEntry>, u32) {
    let (mut writer, mut kept, mut again) = (Writer::number(number), Vec::new(), 0);
    while going.load(Ordering::SeqCst) {
        let entry = writer.say(90, &kept.len().to_string());
        while let Err(error) = once(&store, &writer, &entry).await {
            assert!(error.is_retryable(), "{error:?}");
            again += 1;
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        kept.push(entry);
    }
    (kept, again)
}

async fn once(store: &Postgres, writer: &Writer, entry: &NewEntry) -> Result<(), Error> {
    let done = store.ingest(batch(&[writer], std::slice::from_ref(entry))).await?;
    // A commit of which nobody heard shows as what is here already.
    assert!(done.outcomes.iter().all(|outcome| matches!(outcome, Outcome::New(_) | Outcome::Already)));
    Ok(())
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn nothing_is_lost_and_nothing_is_in_twice() {
    let place = Place::fresh();
    let store = Arc::new(place.open(6).await);
    let going = Arc::new(AtomicBool::new(true));
    let writers: Vec<_> =
        (1..=4).map(|number| tokio::spawn(bring(Arc::clone(&store), number, Arc::clone(&going)))).collect();
    let control = std::env::var("HEADMARK_TEST_POSTGRES_CTL").unwrap_or_else(|_| {
        panic!("HEADMARK_TEST_POSTGRES_CTL is not set: run this by tests/lib/postgres.sh")
    });
    for _ in 0..3 {
        tokio::time::sleep(Duration::from_millis(700)).await;
        let control = control.clone();
        let restart = tokio::task::spawn_blocking(move || Command::new(control).arg("restart").status());
        assert!(restart.await.unwrap().unwrap().success());
    }
    tokio::time::sleep(Duration::from_millis(700)).await;
    going.store(false, Ordering::SeqCst);
    let (mut kept, mut again) = (Vec::new(), 0);
    for writer in writers {
        let (entries, times) = writer.await.unwrap();
        assert!(!entries.is_empty());
        kept.extend(entries);
        again += times;
    }
    assert!(again > 0, "the server was away, and somebody has to have met that");
    let ids: Vec<_> = kept.iter().map(|entry| entry.id).collect();
    assert!(store.holds(&ids).await.unwrap().into_iter().all(|held| held));
    assert_eq!(store.newest().await.unwrap().0, kept.len() as u64, "each once");
    assert_eq!(store.forks().await.unwrap(), []);
}
