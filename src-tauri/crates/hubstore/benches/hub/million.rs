//! A million entries stored: what a phone asks when it comes back, and what a supervisor looks at first.

use std::future::Future;
use std::time::Instant;

use bodies::{Grade, REVIEW};
use exchange::run::Wanted;
use hubstore::{
    AnyStore, Arrival, Batch, Filter, Index, Ledger, Limit, NewEntry, NewLog, Receipted, Register, Row, Rows,
    TagKey, Version, Visits, VisitsAsked,
};
use record::{Kind, LogId, Seq};

use crate::Line;
use crate::made::MadeUp;
use crate::ready::Ready;

const PHONES: u32 = 200;
const ROUNDS: u32 = 1_000;
const EACH_ROUND: u32 = 5;
const TAGS: u32 = 5_000;

/// The most that a query may take, in milliseconds: of many in a row the slowest but one.
const ENOUGH: f64 = 20.0;
const TIMES: usize = 60;

pub(crate) async fn measure(ready: &Ready) -> Vec<Line> {
    let begun = Instant::now();
    let (log, hub) = fill(&ready.store).await;
    let entries = ready.store.newest().await.unwrap().0;
    let took = begun.elapsed().as_secs_f64();
    assert!(entries >= 1_000_000, "{entries} entries");
    println!("{}: {entries} entries stored in {took:.0} s ({:.0}/s)", ready.kind, entries as f64 / took);
    queries(ready, log, hub, Arrival(entries)).await
}

/// Fills the store with visits of many phones, the hub's reviews and receipts among them, and a register. Returns a
/// phone's log and the hub's.
async fn fill(store: &AnyStore) -> (LogId, LogId) {
    let mut phones: Vec<MadeUp> = (0..PHONES).map(MadeUp::number).collect();
    let mut hub = MadeUp::number(9_999);
    let known = phones.iter().chain([&hub]).map(|log| NewLog { log: log.log(), key: vec![1; 42] }).collect();
    store.ingest(Batch { known, ..Batch::default() }).await.unwrap();
    for round in 0..ROUNDS {
        let mut entries = Vec::new();
        for (number, phone) in (0..).zip(&mut phones) {
            entries.extend((0..EACH_ROUND).map(|at| phone.visit((round * 31 + number * 7 + at) % TAGS)));
        }
        entries.extend(of_the_hub(&mut hub, &phones, round));
        store.ingest(Batch { entries, ..Batch::default() }).await.unwrap();
    }
    for round in 0..3_u8 {
        let row = |tag: u32| Row {
            tag: format!("LT-{tag}"),
            area: format!("area {}", tag % 5),
            bytes: vec![round; 900],
        };
        store.put_rows(Rows::Some((0..TAGS).map(row).collect())).await.unwrap();
    }
    (phones[17].log(), hub.log())
}

/// Each round a review for some phones and a receipt for others, and at times a certificate.
fn of_the_hub(hub: &mut MadeUp, phones: &[MadeUp], round: u32) -> Vec<NewEntry> {
    let mut entries = Vec::new();
    for (number, phone) in (0_u32..).zip(phones) {
        if (number + round).is_multiple_of(20) {
            entries.push(hub.next(REVIEW, Index { concerns: vec![phone.log()], ..Index::default() }));
        }
        if (number + round) % 40 == 1 {
            let receipt = Receipted { log: phone.log(), grade: Grade::Stored.word().to_owned() };
            entries.push(hub.next(bodies::RECEIPT, Index { receipt: Some(receipt), ..Index::default() }));
        }
    }
    // More of what people change at the hub than any hub will see: ten thousand.
    for _ in 0..10 {
        entries.push(hub.next(bodies::CHANGE, Index::default()));
    }
    if round.is_multiple_of(5) {
        entries.push(hub.next(bodies::CERTIFICATE, Index { everyone: true, ..Index::default() }));
    }
    entries
}

async fn queries(ready: &Ready, log: LogId, hub: LogId, newest: Arrival) -> Vec<Line> {
    let store = &ready.store;
    let limit = Limit { entries: 100, bytes: 1 << 20 };
    let near = Arrival(newest.0 - 50_000);
    let changes = Filter { kinds: vec![bodies::CHANGE], logs: vec![hub] };
    let mut lines = vec![
        timed(ready, "catch-up from the start", async || {
            store.news_for(&[log], Arrival(0), limit).await.unwrap()
        })
        .await,
        timed(ready, "catch-up after weeks", async || store.news_for(&[log], near, limit).await.unwrap())
            .await,
        timed(ready, "catch-up with nothing new", async || {
            store.news_for(&[log], newest, limit).await.unwrap()
        })
        .await,
        timed(ready, "runs and photos of a phone", async || {
            hubstore::Photos::photos_of(store, log, 4_000).await.unwrap();
            store.runs(&[log, hub]).await.unwrap()
        })
        .await,
        timed(ready, "50 entries of a branch", async || {
            store.branch(last_fifty(store, log).await).await.unwrap()
        })
        .await,
        timed(ready, "a page of the register", async || {
            store.changes("area 3", Version(0), 100).await.unwrap()
        })
        .await,
        timed(ready, "all certificates", async || {
            let filter = Filter { kinds: vec![Kind(7)], ..Filter::default() };
            store.since(Arrival(0), &filter, limit).await.unwrap()
        })
        .await,
        timed(ready, "newest changes", async || store.latest(None, &changes, limit).await.unwrap()).await,
        timed(ready, "newest changes, deep", async || {
            store.latest(Some(Arrival(newest.0 / 2)), &changes, limit).await.unwrap()
        })
        .await,
    ];
    let page = VisitsAsked { most: 50, ..VisitsAsked::default() };
    let asked = [
        ("newest visits", page.clone()),
        ("newest visits, deep", VisitsAsked { before: Some(Arrival(newest.0 / 2)), ..page.clone() }),
        ("newest visits of a tag", VisitsAsked { tag: Some(TagKey::of("LT-31")), ..page.clone() }),
        ("newest visits of a site", VisitsAsked { site: Some("Site 31".to_owned()), ..page.clone() }),
        (
            "newest visits of a tag and its site",
            VisitsAsked { tag: Some(TagKey::of("LT-31")), site: Some("Site 31".to_owned()), ..page.clone() },
        ),
        ("newest visits of no such tag", VisitsAsked { tag: Some(TagKey::of("LT-X")), ..page }),
    ];
    for (what, asked) in &asked {
        lines.push(timed(ready, what, async || store.visits(asked).await.unwrap()).await);
    }
    lines
}

async fn last_fifty(store: &AnyStore, log: LogId) -> Wanted {
    let (to, end) = store.tip(log).await.unwrap().unwrap();
    Wanted { log, from: Seq::new(to.get() - 49).unwrap(), to, end }
}

async fn timed<T, F: Future<Output = T>>(ready: &Ready, what: &str, mut ask: impl FnMut() -> F) -> Line {
    let mut times = Vec::with_capacity(TIMES);
    for _ in 0..TIMES {
        let begun = Instant::now();
        std::hint::black_box(ask().await);
        times.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    times.sort_by(f64::total_cmp);
    let (middle, slow) = (times[TIMES / 2], times[TIMES - 2]);
    Line::say(format!("{} {what}: {middle:.1} ms, slowest but one {slow:.1} ms", ready.kind), slow < ENOUGH)
}
