//! The queue of visits to be worked out again.

use hubstore::{AnyStore, Arrival, Found, Jobs, Ledger, Moment};

use crate::writer::{Writer, batch};

async fn four_visits(store: &AnyStore) -> Vec<hubstore::NewEntry> {
    let mut asha = Writer::number(1);
    let mut entries = vec![asha.say(90, "no visit")];
    entries.extend((1..=4).map(|at| asha.visit(&format!("LT-{at}"), "Sedge Hill")));
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    entries
}

async fn claim(store: &AnyStore, now: i64, until: i64, most: u32) -> Vec<(u64, u32)> {
    let jobs = store.claim(Moment(now), Moment(until), most).await.unwrap();
    jobs.iter().map(|job| (job.arrival.0, job.tries)).collect()
}

pub(crate) async fn a_visit_is_claimed_by_one_until_its_lease_ends(store: &AnyStore) {
    let entries = four_visits(store).await;
    assert_eq!(claim(store, 10, 20, 2).await, [(2, 1), (3, 1)]);
    let rest = store.claim(Moment(19), Moment(30), 9).await.unwrap();
    assert_eq!(rest.iter().map(|job| job.id).collect::<Vec<_>>(), [entries[3].id, entries[4].id]);
    assert_eq!(claim(store, 19, 30, 9).await, []);
    store.finish(&[(Arrival(2), Found::Agrees)]).await.unwrap();
    assert_eq!(claim(store, 20, 40, 9).await, [(3, 2)]);
    assert_eq!(claim(store, 40, 50, 9).await, [(3, 3), (4, 2), (5, 2)]);
}

pub(crate) async fn findings_are_kept_and_counted(store: &AnyStore) {
    let entries = four_visits(store).await;
    let differs = Found::Differs("total offset by 0.3 m".into());
    let found = [
        (Arrival(2), Found::Agrees),
        (Arrival(3), differs.clone()),
        (Arrival(4), Found::OtherModel(1)),
        (Arrival(5), Found::Unreadable("unknown key".into())),
    ];
    store.finish(&found).await.unwrap();
    store.finish(&found[..1]).await.unwrap();
    store.finish(&[(Arrival(2), differs.clone()), (Arrival(99), Found::Agrees)]).await.unwrap();
    let page = store.findings("differs", None, 1).await.unwrap();
    assert_eq!(
        page.iter().map(|row| (row.arrival, row.id)).collect::<Vec<_>>(),
        [(Arrival(3), entries[2].id)]
    );
    assert_eq!(page[0].found, differs);
    let page = store.findings("differs", Some(Arrival(3)), 9).await.unwrap();
    assert_eq!(page.iter().map(|row| row.arrival.0).collect::<Vec<_>>(), [2]);
    assert_eq!(store.found(entries[3].id).await.unwrap(), Some(Found::OtherModel(1)));
    assert_eq!(store.found(entries[0].id).await.unwrap(), None);
    let tally = store.tally().await.unwrap();
    let done = [("differs".to_owned(), 2), ("other_model".to_owned(), 1), ("unreadable".to_owned(), 1)];
    assert_eq!((tally.waiting, tally.done), (0, done.into()));
}

pub(crate) async fn those_of_one_finding_are_queued_again(store: &AnyStore) {
    let entries = four_visits(store).await;
    assert_eq!(claim(store, 0, 100, 9).await.len(), 4);
    let newer = Found::NewerModel(7);
    let found = [(Arrival(2), Found::Agrees), (Arrival(3), newer.clone()), (Arrival(5), newer.clone())];
    store.finish(&found).await.unwrap();
    assert_eq!(store.requeue("differs").await.unwrap(), 0);
    assert_eq!(store.requeue("newer_model").await.unwrap(), 2);
    assert_eq!(store.found(entries[2].id).await.unwrap(), Some(newer), "findings stand until replaced");
    assert_eq!(claim(store, 0, 100, 9).await, [(3, 1), (5, 1)]);
    assert_eq!(
        store.requeue("newer_model").await.unwrap(),
        2,
        "somebody has them: done twice it does no harm"
    );
    assert_eq!(claim(store, 0, 100, 9).await, [(3, 1), (5, 1)]);
}
