//! The list of visits.

use bodies::{Confirmed, PersonId};
use hubstore::{AnyStore, Arrival, Ledger, Outcome, TagKey, VisitLine, Visits, VisitsAsked};

use crate::writer::{Writer, batch};

async fn page(
    store: &AnyStore,
    tag: Option<&str>,
    site: Option<&str>,
    before: Option<u64>,
    most: u32,
) -> Vec<u64> {
    let asked = VisitsAsked {
        tag: tag.map(TagKey::of),
        site: site.map(str::to_owned),
        before: before.map(Arrival),
        most,
    };
    store.visits(&asked).await.unwrap().iter().map(|row| row.arrival.0).collect()
}

pub(crate) async fn the_newest_come_first_in_pages(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let mut entries = Vec::new();
    for at in 1..=5 {
        entries.extend([asha.visit(&format!("LT-{at}"), "Sedge Hill"), asha.say(90, "other")]);
    }
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    assert_eq!(page(store, None, None, None, 2).await, [9, 7]);
    assert_eq!(page(store, None, None, Some(7), 2).await, [5, 3]);
    assert_eq!(page(store, None, None, Some(3), 2).await, [1]);
    assert_eq!(store.visit_count().await.unwrap(), 5);
    let newest = store.visits(&VisitsAsked { most: 1, ..VisitsAsked::default() }).await.unwrap().remove(0);
    let line = VisitLine {
        tag: "LT-5".into(),
        site: "Sedge Hill".into(),
        claimed: 1_790_000_000_000,
        verdict: "verdict.inside".into(),
        technician: PersonId([4; 16]),
        confirmed: Confirmed::Pin,
        model: 7,
    };
    assert_eq!((newest.line, newest.id), (line, entries[8].id));
}

pub(crate) async fn visits_are_found_by_tag_and_site(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let entries = [
        asha.visit("LT-201", "Sedge Hill"),
        asha.visit("LT-202", "Cold Ash"),
        asha.visit("lt 201", "Cold Ash"),
        asha.visit("LT-201", "Sedge Hill"),
    ];
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    assert_eq!(page(store, Some("lt_201"), None, None, 9).await, [4, 3, 1]);
    // Without its mark it is another tag, as `LT-20-1` is.
    assert_eq!(page(store, Some("LT201"), None, None, 9).await, [0; 0]);
    assert_eq!(page(store, None, Some("Cold Ash"), None, 9).await, [3, 2]);
    assert_eq!(page(store, Some("LT-201"), Some("Sedge Hill"), Some(4), 9).await, [1]);
    assert_eq!(page(store, Some("LT-9"), None, None, 9).await, [0; 0]);
}

pub(crate) async fn a_text_that_a_database_would_refuse_keeps_nothing_out(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let entries = [
        asha.visit("LT\0-201", &"Sedge Hill ".repeat(2_000)),
        // Says that it is a visit and is none that can be read.
        asha.say(1, "not a visit"),
        asha.visit("LT-202", "Cold Ash"),
    ];
    let done = store.ingest(batch(&[&asha], &entries)).await.unwrap();
    assert!(done.outcomes.iter().all(|outcome| matches!(outcome, Outcome::New(_))));
    assert_eq!(page(store, None, None, None, 9).await, [3, 1]);
    assert_eq!(store.entry(entries[0].id).await.unwrap().unwrap().bytes, entries[0].bytes);
}
