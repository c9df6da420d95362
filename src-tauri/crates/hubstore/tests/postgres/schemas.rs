//! What the tables hold by themselves.

use hubstore::Ledger;

use crate::server::Place;
use crate::writer::{Writer, batch};

#[tokio::test]
async fn an_entry_is_never_changed_by_any_statement() {
    let place = Place::fresh();
    let store = place.open(2).await;
    let mut asha = Writer::number(1);
    let entry = asha.say(90, "kept");
    store.ingest(batch(&[&asha], &[entry])).await.unwrap();
    let client = place.client().await;
    for sql in ["UPDATE entry SET kind = 1", "DELETE FROM entry", "TRUNCATE entry"] {
        assert!(client.batch_execute(sql).await.is_err(), "{sql}");
    }
}

#[tokio::test]
async fn commits_wait_for_the_disk_whatever_the_server_says() {
    let place = Place::fresh();
    let store = place.open(1).await;
    let client = place.client().await;
    client.batch_execute("SET synchronous_commit = off").await.unwrap();
    // The store's own connections: what they say of themselves is seen in a setting that a trigger writes down.
    client
        .batch_execute(
            "CREATE FUNCTION look() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN \
             NEW.value = convert_to(current_setting('synchronous_commit'), 'UTF8'); RETURN NEW; END $$; \
             CREATE TRIGGER look BEFORE INSERT ON setting FOR EACH ROW EXECUTE FUNCTION look()",
        )
        .await
        .unwrap();
    hubstore::Meta::put_setting(&store, "looked", Some(b"")).await.unwrap();
    let said = hubstore::Meta::setting(&store, "looked").await.unwrap().unwrap();
    assert_eq!(String::from_utf8(said).unwrap(), "on");
}
