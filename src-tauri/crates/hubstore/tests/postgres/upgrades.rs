//! Processes that start, and what they find.

use hubstore::{Arrival, Error, Ledger};

use crate::server::Place;

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn processes_that_start_at_once_upgrade_once() {
    let place = Place::fresh();
    let (one, two, three, four) = tokio::join!(place.open(2), place.open(2), place.open(2), place.open(2));
    for store in [one, two, three, four] {
        assert_eq!(store.newest().await.unwrap(), Arrival(0));
    }
    let client = place.client().await;
    let steps = client.query_one("SELECT count(*) FROM headmark_format", &[]).await.unwrap();
    assert_eq!(steps.get::<_, i64>(0), 2);
}

#[tokio::test]
async fn a_newer_database_is_left_as_it_is() {
    let place = Place::fresh();
    drop(place.open(1).await);
    let client = place.client().await;
    client.batch_execute("INSERT INTO headmark_format (step) VALUES (3), (4)").await.unwrap();
    let refused = place.connecting(1).open().await.unwrap_err();
    assert_eq!(refused, Error::Newer { found: 4, known: 2 });
    assert!(!refused.is_retryable());
}

#[tokio::test]
async fn visits_that_came_before_say_how_who_signed_was_confirmed() {
    let place = Place::fresh();
    drop(place.open(1).await);
    let client = place.client().await;
    // As the first step left it.
    client
        .batch_execute("ALTER TABLE visit DROP COLUMN confirmed; DELETE FROM headmark_format WHERE step = 2")
        .await
        .unwrap();
    for (arrival, word) in (1_i64..).zip(["6370696e", "646e6f6e65", "68756e6c6f636b6564"]) {
        let technician = format!("f{arrival}").repeat(16);
        let rows = format!(
            "INSERT INTO entry (arrival, log, seq, hash, bytes) VALUES ({arrival}, decode('{0}', 'hex'), {arrival}, \
             decode('{0}', 'hex'), decode('99828250{technician}{word}99', 'hex')); \
             INSERT INTO visit (arrival, technician) VALUES ({arrival}, decode('{technician}', 'hex'))",
            "00".repeat(32)
        );
        client.batch_execute(&rows).await.unwrap();
    }
    drop(place.open(1).await);
    let found = client.query("SELECT confirmed FROM visit ORDER BY arrival", &[]).await.unwrap();
    let found: Vec<String> = found.iter().map(|row| row.get(0)).collect();
    assert_eq!(found, ["pin", "none", "unlocked"]);
}

#[tokio::test]
async fn a_server_that_is_not_there_is_said_and_may_be_tried_again() {
    let address = "postgres://nobody@127.0.0.1:9/none?connect_timeout=2";
    let error = hubstore::Connecting::to(address).open().await.unwrap_err();
    assert!(matches!(error, Error::Unreachable { .. }) && error.is_retryable(), "{error:?}");
}
