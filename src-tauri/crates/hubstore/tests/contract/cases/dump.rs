//! Dump and restore, from each store into memory and back.

use std::slice::from_ref;

use bodies::{Epoch, Grade, HubRole, PersonId, PhotoHash};
use hubstore::{
    AnyStore, Arrival, Batch, Device, Dump, Error, Found, HubPerson, HubStore, Identity, Item, Jobs, Ledger,
    Memory, Meta, People, Photos, Register, Row, Rows, Visits,
};
use record::LogId;
use tokio::sync::mpsc::channel;

use crate::writer::{Writer, batch};

/// Fills a store with one of everything.
async fn fill(store: &AnyStore) -> Writer {
    let (mut hub, mut asha, mut stranger) = (Writer::number(7), Writer::number(1), Writer::number(5));
    let identity = Identity { epoch: Epoch([1; 16]), log: hub.log(), organisation: vec![3; 42] };
    store.begin_epoch(&identity, &[]).await.unwrap();
    store.put_setting("name", Some(b"Marrowby")).await.unwrap();
    let mut entries = vec![asha.visit("LT-201", "Sedge Hill"), asha.photo(PhotoHash([6; 32]), 5)];
    let back = asha.link;
    entries.push(asha.say(90, "one branch"));
    asha.link = back;
    entries.push(asha.say(90, "another branch"));
    entries.extend([hub.review(entries[0].id), hub.receipt(asha.log(), Grade::Stored)]);
    entries.extend((0..700).map(|at| asha.say(90, &at.to_string())));
    store.ingest(batch(&[&hub, &asha], &entries)).await.unwrap();
    let waits = Batch {
        keys: vec![stranger.known()],
        carrier: [3; 32],
        entries: vec![stranger.say(90, "waits")],
        ..Batch::default()
    };
    store.ingest(waits).await.unwrap();
    let row = |area: &str| Row { tag: "LT-201".into(), area: area.into(), bytes: vec![1] };
    store.put_rows(Rows::Some(vec![row("north")])).await.unwrap();
    store.put_rows(Rows::Some(vec![row("south")])).await.unwrap();
    let okoro = HubPerson {
        id: PersonId([1; 16]),
        name: "N. Okoro".into(),
        secret: String::new(),
        role: HubRole::Supervise,
    };
    store.put_person(&okoro).await.unwrap();
    let device = Device { log: asha.log(), label: "phone".into(), person: None, areas: vec!["north".into()] };
    store.put_device(&device).await.unwrap();
    store.came_whole(PhotoHash([6; 32]), 5).await.unwrap();
    store.finish(&[(Arrival(1), Found::Differs("by much".into()))]).await.unwrap();
    asha
}

async fn items(store: &impl HubStore) -> Vec<Item> {
    let (to, mut from) = channel(8);
    let listen = async {
        let mut items = Vec::new();
        while let Some(item) = from.recv().await {
            items.push(item);
        }
        items
    };
    let (dumped, items) = tokio::join!(store.dump(to), listen);
    dumped.unwrap();
    items
}

async fn restore(store: &impl HubStore, items: &[Item]) -> Result<u64, Error> {
    let (to, from) = channel(8);
    let send = async move {
        for item in items {
            if to.send(item.clone()).await.is_err() {
                break;
            }
        }
    };
    tokio::join!(store.restore(from), send).0
}

pub(crate) async fn a_dump_goes_into_an_empty_store_whole(store: &AnyStore) {
    let source = AnyStore::Memory(Memory::new());
    let mut asha = fill(&source).await;
    let dumped = items(&source).await;
    assert_eq!(restore(store, &dumped).await.unwrap(), 706);
    assert_eq!(items(store).await, dumped, "what comes out is what went in");
    let again = Memory::new();
    assert_eq!(restore(&again, &items(store).await).await.unwrap(), 706);
    assert_eq!(items(&again).await, dumped);
    // What is worked out from it is there too.
    assert_eq!(store.forks().await.unwrap(), source.forks().await.unwrap());
    assert_eq!(store.runs(&[asha.log()]).await.unwrap(), source.runs(&[asha.log()]).await.unwrap());
    assert_eq!(store.receipts(asha.log()).await.unwrap().len(), 1);
    assert_eq!((store.visit_count().await.unwrap(), store.tally().await.unwrap().waiting), (1, 0));
    let next = asha.say(90, "life goes on");
    store.ingest(batch(&[], from_ref(&next))).await.unwrap();
    assert_eq!(store.newest().await.unwrap(), Arrival(707));
    let row = Row { tag: "LT-1".into(), area: "north".into(), bytes: vec![] };
    assert_eq!(store.put_rows(Rows::Some(vec![row])).await.unwrap().version.0, 4);
}

pub(crate) async fn nothing_is_restored_over_something(store: &AnyStore) {
    let source = Memory::new();
    let identity = Identity { epoch: Epoch([1; 16]), log: LogId([1; 32]), organisation: vec![] };
    source.begin_epoch(&identity, &[]).await.unwrap();
    let dumped = items(&source).await;
    let mut asha = Writer::number(1);
    // A dump that breaks its order leaves nothing behind.
    let entry = asha.say(90, "one");
    let memory = Memory::new();
    let entries = [entry, asha.say(90, "two")];
    memory.ingest(batch(&[&asha], &entries)).await.unwrap();
    let mut broken = items(&memory).await;
    broken.retain(|item| !matches!(item, Item::Entry(entry) if entry.arrival == Arrival(1)));
    assert!(matches!(restore(store, &broken).await, Err(Error::Unreadable { .. })));
    assert_eq!(items(store).await, []);
    restore(store, &dumped).await.unwrap();
    assert_eq!(restore(store, &dumped).await, Err(Error::NotEmpty));
    assert_eq!(store.identity().await.unwrap(), Some(identity));
}

pub(crate) async fn a_dump_that_nobody_listens_to_ends(store: &AnyStore) {
    fill(store).await;
    let (to, mut from) = channel(2);
    let (dumped, first) = tokio::join!(store.dump(to), async {
        let first = from.recv().await;
        drop(from);
        first
    });
    dumped.unwrap();
    assert!(matches!(first, Some(Item::Identity(_))));
}
