//! What is new for a phone.

use bodies::{CHANGE, CHANGE_VERSION, Change, ChangeMade, Grade, PhotoHash};
use hubstore::{AnyStore, Arrival, Ledger, Limit};

use crate::writer::{Writer, batch};

async fn news(store: &AnyStore, who: &[&Writer], after: u64, entries: u32) -> (Vec<u64>, u64, bool) {
    let logs: Vec<_> = who.iter().map(|writer| writer.log()).collect();
    let limit = Limit { entries, ..Limit::default() };
    let news = store.news_for(&logs, Arrival(after), limit).await.unwrap();
    let arrivals = news.entries.iter().map(|entry| entry.arrival.0).collect();
    (arrivals, news.upto.0, news.more)
}

pub(crate) async fn of_others_only_what_concerns(store: &AnyStore) {
    let (mut hub, mut asha, mut ben) = (Writer::number(7), Writer::number(1), Writer::number(2));
    let visit = asha.visit("LT-201", "Sedge Hill");
    let entries = [
        visit.clone(),
        hub.review(visit.id),
        ben.visit("LT-202", "Cold Ash"),
        // Certificates and revocations are for everyone, whatever their bodies say.
        hub.say(7, "certificate"),
        hub.say(8, "revocation"),
        asha.review(visit.id),
    ];
    store.ingest(batch(&[&hub, &asha, &ben], &entries)).await.unwrap();
    assert_eq!(news(store, &[&asha], 0, 9).await, (vec![2, 4, 5], 6, false));
    assert_eq!(news(store, &[&ben], 0, 9).await, (vec![4, 5], 6, false));
    assert_eq!(news(store, &[&asha, &ben], 2, 9).await, (vec![4, 5], 6, false));
    assert_eq!(news(store, &[], 4, 9).await, (vec![5], 6, false));
}

pub(crate) async fn who_confirmed_a_phone_is_for_everyone_and_no_other_change_is(store: &AnyStore) {
    let (mut hub, asha) = (Writer::number(7), Writer::number(1));
    let mut change = |made| {
        let body = Change { by: None, made }.encode().unwrap();
        hub.write(CHANGE, CHANGE_VERSION, &body)
    };
    let entries = [
        change(ChangeMade::PhonesLookedThrough),
        change(ChangeMade::PhoneConfirmed(asha.log())),
        hub.say(CHANGE.0, "of a newer program"),
    ];
    store.ingest(batch(&[&hub, &asha], &entries)).await.unwrap();
    assert_eq!(news(store, &[&asha], 0, 9).await, (vec![2], 3, false));
}

pub(crate) async fn the_newest_receipt_of_each_grade_counts(store: &AnyStore) {
    let (mut hub, mut relay, asha) = (Writer::number(7), Writer::number(2), Writer::number(1));
    let log = asha.log();
    let entries = [
        hub.receipt(log, Grade::Stored),
        hub.receipt(log, Grade::BackedUp),
        hub.receipt(log, Grade::Stored),
        relay.receipt(log, Grade::Relayed),
        hub.receipt(relay.log(), Grade::Stored),
        hub.receipt(log, Grade::Stored),
    ];
    // Replaced within one batch and by a later one.
    store.ingest(batch(&[&hub, &relay], &entries[..4])).await.unwrap();
    assert_eq!(news(store, &[&asha], 0, 9).await, (vec![2, 3, 4], 4, false));
    store.ingest(batch(&[], &entries[4..])).await.unwrap();
    assert_eq!(news(store, &[&asha], 0, 9).await, (vec![2, 4, 6], 6, false));
    let kept: Vec<u64> = store.receipts(log).await.unwrap().iter().map(|entry| entry.arrival.0).collect();
    assert_eq!(kept, [2, 4, 6]);
    assert_eq!(store.receipts(hub.log()).await.unwrap(), []);
}

pub(crate) async fn a_receipt_of_photos_alone_stands_beside_the_newest(store: &AnyStore) {
    let (mut hub, asha) = (Writer::number(7), Writer::number(1));
    let log = asha.log();
    let photo = |number: u8| PhotoHash([number; 32]);
    let entries = [
        hub.receipt_of(log, Grade::Stored, &[photo(1), photo(2)]),
        hub.receipt(log, Grade::Stored),
        hub.receipt_of(log, Grade::Stored, &[photo(3)]),
        hub.receipt_of(log, Grade::BackedUp, &[photo(1)]),
        hub.receipt(log, Grade::Stored),
    ];
    store.ingest(batch(&[&hub], &entries)).await.unwrap();
    assert_eq!(news(store, &[&asha], 0, 9).await, (vec![1, 3, 4, 5], 5, false));
    let kept: Vec<u64> = store.receipts(log).await.unwrap().iter().map(|entry| entry.arrival.0).collect();
    assert_eq!(kept, [1, 3, 4, 5]);
}

pub(crate) async fn news_come_in_pages(store: &AnyStore) {
    let (mut hub, mut asha) = (Writer::number(7), Writer::number(1));
    let visit = asha.visit("LT-201", "Sedge Hill");
    let mut entries = vec![visit.clone()];
    for _ in 0..5 {
        entries.extend([hub.review(visit.id), hub.say(7, "certificate"), asha.say(90, "other")]);
    }
    store.ingest(batch(&[&hub, &asha], &entries)).await.unwrap();
    let (mut after, mut all, mut rounds) = (0, Vec::new(), 0);
    loop {
        let (page, upto, more) = news(store, &[&asha], after, 3).await;
        assert!(page.len() <= 3 && upto >= after);
        (after, rounds) = (upto, rounds + 1);
        all.extend(page);
        if !more {
            break;
        }
    }
    assert_eq!(all, [2, 3, 5, 6, 8, 9, 11, 12, 14, 15]);
    assert_eq!((after, rounds), (16, 4));
}
