//! Many who write at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use bodies::{HubRole, PersonId};
use hubstore::{
    Arrival, Error, Filter, HubPerson, Ledger, Limit, Outcome, People, Postgres, Register, Row, Rows, Version,
};
use record::Link;

use crate::server::Place;
use crate::writer::{Writer, batch};

/// Makes the server wait before each commit that adds an entry or changes a row, for up to 30 ms.
async fn pause_before_commits(place: &Place) {
    let client = place.client().await;
    client
        .batch_execute(
            "CREATE FUNCTION pause() RETURNS trigger LANGUAGE plpgsql AS $$ \
             BEGIN PERFORM pg_sleep(random() * 0.03); RETURN NULL; END $$; \
             CREATE CONSTRAINT TRIGGER pause AFTER INSERT ON entry DEFERRABLE INITIALLY DEFERRED \
             FOR EACH ROW EXECUTE FUNCTION pause(); \
             CREATE CONSTRAINT TRIGGER pause AFTER INSERT ON register_change DEFERRABLE INITIALLY DEFERRED \
             FOR EACH ROW EXECUTE FUNCTION pause();",
        )
        .await
        .unwrap();
}

const WRITERS: u8 = 8;
const EACH: u64 = 12;

async fn write(store: Arc<Postgres>, number: u8) {
    let mut writer = Writer::number(number);
    for at in 0..EACH {
        let entry = writer.say(90, &at.to_string());
        let done = store.ingest(batch(&[&writer], &[entry])).await.unwrap();
        assert!(matches!(done.outcomes[0], Outcome::New(_)));
        let row =
            Row { tag: format!("LT-{number}"), area: "north".into(), bytes: vec![u8::try_from(at).unwrap()] };
        store.put_rows(Rows::Some(vec![row])).await.unwrap();
    }
}

/// Follows the ledger from number to number and returns all that it met.
async fn follow(store: Arc<Postgres>, writing: Arc<AtomicBool>) -> Vec<u64> {
    let (mut met, mut after) = (Vec::new(), Arrival(0));
    loop {
        let last_round = !writing.load(Ordering::SeqCst);
        let news =
            store.since(after, &Filter::default(), Limit { entries: 3, bytes: u64::MAX }).await.unwrap();
        met.extend(news.entries.iter().map(|entry| entry.arrival.0));
        after = news.upto;
        if last_round && !news.more {
            return met;
        }
    }
}

/// Follows the register, keeping the newest number for each tag.
async fn follow_rows(store: Arc<Postgres>, writing: Arc<AtomicBool>) -> Vec<Vec<u8>> {
    let (mut rows, mut after) = (std::collections::BTreeMap::new(), Version(0));
    loop {
        let last_round = !writing.load(Ordering::SeqCst);
        let changes = store.changes("north", after, 100).await.unwrap();
        after = changes.last().map_or(after, |change| change.version);
        let none = changes.is_empty();
        rows.extend(changes.into_iter().map(|change| (change.tag, change.row.unwrap())));
        if last_round && none {
            return rows.into_values().collect();
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn eight_writers_that_pause_before_they_commit_and_a_reader_who_misses_nothing() {
    let place = Place::fresh();
    // Two processes of a hub, and one that reads.
    let stores = [Arc::new(place.open(5).await), Arc::new(place.open(5).await)];
    let reader = Arc::new(place.open(2).await);
    pause_before_commits(&place).await;
    let writing = Arc::new(AtomicBool::new(true));
    let entries = tokio::spawn(follow(Arc::clone(&reader), Arc::clone(&writing)));
    let rows = tokio::spawn(follow_rows(reader, Arc::clone(&writing)));
    let writers: Vec<_> = (1..=WRITERS)
        .map(|number| tokio::spawn(write(Arc::clone(&stores[usize::from(number) % 2]), number)))
        .collect();
    for writer in writers {
        writer.await.unwrap();
    }
    writing.store(false, Ordering::SeqCst);
    let all: Vec<u64> = (1..=u64::from(WRITERS) * EACH).collect();
    assert_eq!(entries.await.unwrap(), all, "each number once, in order, none skipped");
    assert_eq!(rows.await.unwrap(), vec![vec![u8::try_from(EACH - 1).unwrap()]; usize::from(WRITERS)]);
}

/// The other way of numbering, by a sequence, has to be caught by the same reader: otherwise the test above would prove
/// nothing. A writer takes its number, waits, and commits after one with a higher number.
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn a_reader_does_miss_what_a_sequence_numbers() {
    let place = Place::fresh();
    let store = place.open(2).await;
    let (slow, quick) = (place.client().await, place.client().await);
    let mut asha = Writer::number(1);
    let (late, early) = (asha.say(90, "late"), asha.say(90, "early"));
    let insert = "INSERT INTO entry (arrival, log, seq, hash, size, bytes) VALUES ($1, $2, $3, $4, 1, $5)";
    slow.batch_execute("BEGIN").await.unwrap();
    for (client, arrival, entry) in [(&slow, 1_i64, &late), (&quick, 2, &early)] {
        let seq = i64::try_from(entry.id.seq.get()).unwrap();
        let (log, hash) = (entry.id.log.0.to_vec(), entry.id.payload.0.to_vec());
        client.execute(insert, &[&arrival, &log, &seq, &hash, &entry.bytes]).await.unwrap();
    }
    quick.batch_execute("UPDATE counter SET value = 2 WHERE name = 'arrival'").await.unwrap();
    let first = store.since(Arrival(0), &Filter::default(), Limit::default()).await.unwrap();
    slow.batch_execute("COMMIT").await.unwrap();
    let then = store.since(first.upto, &Filter::default(), Limit::default()).await.unwrap();
    let met: Vec<u64> =
        [first, then].iter().flat_map(|news| &news.entries).map(|entry| entry.arrival.0).collect();
    assert_eq!(met, [2], "number 1 was skipped");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn processes_that_sign_one_log_never_fork_it() {
    let place = Place::fresh();
    let stores = [Arc::new(place.open(3).await), Arc::new(place.open(3).await)];
    stores[0].ingest(batch(&[&Writer::number(7)], &[])).await.unwrap();
    let sign = async |store: Arc<Postgres>| {
        let (mut hub, mut refused) = (Writer::number(7), 0);
        for at in 0..15 {
            loop {
                let tip = store.tip(hub.log()).await.unwrap();
                hub.link = tip.map_or(Link::First, |(seq, payload)| Link::After { seq, payload });
                match store.append(vec![hub.say(90, &at.to_string())]).await {
                    Ok(_) => break,
                    Err(Error::OutOfStep { .. }) => refused += 1,
                    Err(other) => panic!("{other:?}"),
                }
            }
        }
        refused
    };
    let (one, other) = tokio::join!(sign(Arc::clone(&stores[0])), sign(Arc::clone(&stores[1])));
    assert!(one + other > 0, "the two have to have met");
    assert_eq!(stores[0].forks().await.unwrap(), []);
    let log = Writer::number(7).log();
    let runs = stores[0].runs(&[log]).await.unwrap().remove(&log).unwrap();
    assert_eq!((runs.all().len(), runs.all()[0].to.get()), (1, 30));
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn what_two_processes_bring_at_once_is_in_once() {
    let place = Place::fresh();
    let stores = [Arc::new(place.open(3).await), Arc::new(place.open(3).await)];
    let mut asha = Writer::number(1);
    let entries: Vec<_> = (0..60).map(|at| asha.say(90, &at.to_string())).collect();
    for part in entries.chunks(10) {
        let (one, other) =
            tokio::join!(stores[0].ingest(batch(&[&asha], part)), stores[1].ingest(batch(&[&asha], part)));
        let (one, other) = (one.unwrap().outcomes, other.unwrap().outcomes);
        let both = one.iter().zip(&other);
        assert!(both.clone().all(|(one, other)| (*one == Outcome::Already) != (*other == Outcome::Already)));
    }
    assert_eq!(stores[1].newest().await.unwrap(), Arrival(60));
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn people_whom_two_processes_write_down_at_once_take_a_number_each() {
    let place = Place::fresh();
    let stores = [Arc::new(place.open(3).await), Arc::new(place.open(3).await)];
    let write = async |store: Arc<Postgres>, who: u8| {
        for at in 0..20 {
            let id = PersonId([who, at, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
            let person =
                HubPerson { id, name: format!("{who} {at}"), secret: String::new(), role: HubRole::Read };
            store.put_person(&person).await.unwrap();
        }
    };
    tokio::join!(write(Arc::clone(&stores[0]), 1), write(Arc::clone(&stores[1]), 2));
    assert_eq!(stores[0].people_version().await.unwrap(), Version(40));
}
