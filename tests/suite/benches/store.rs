//! How long the store takes: saving an input, signing a visit, finding a code among 100,000 instruments.
//!
//! The lookup stands beside a bare prepared SQLite point query on the same rows in the same run. The bare one
//! has every advantage and the same settings: one tag for a code, a table that is its own index, a small file. `within_twice_the_bare_query` times both in turn and fails the run when the store takes more than
//! twice as long.
#![allow(
    clippy::unwrap_used,
    clippy::print_stderr,
    missing_docs,
    reason = "a bench talks to who runs it, and criterion's macros write public items"
)]

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use store::{
    Claimed, Draft, InstrumentRow, Kind, Listed, LogId, NewEntry, Opening, PayloadHash, Place, RegisterName,
    Seq, SignedVisit, Store, TagKey,
};

const INSTRUMENTS: u32 = 100_000;
const LOG: LogId = LogId([1; 32]);

fn code(number: u32) -> String {
    format!("https://tags.marrowby.example/i/{number:06}?k={:08x}", number.wrapping_mul(2_654_435_761))
}

fn instrument(number: u32) -> InstrumentRow {
    InstrumentRow {
        listed: Listed {
            key: TagKey(format!("lt{number:06}")),
            tag: format!("LT-{number:06}"),
            service: "Clear water tank level".into(),
            site: "Sedge Hill".into(),
            serial: format!("{number:08}"),
        },
        codes: vec![code(number)],
        // As long as a register row is with its site, liquid, limits and tapes.
        body: "x".repeat(1_200),
    }
}

fn loaded(path: &Path) -> Store {
    let store = Opening::at(path).open().unwrap();
    let name = RegisterName { name: "bench".into(), dated: "2026-01-01".into() };
    let begun = Instant::now();
    store.load_register(&name, (0..INSTRUMENTS).map(instrument)).unwrap();
    eprintln!("register of {INSTRUMENTS} loaded in {:?}", begun.elapsed());
    let begun = Instant::now();
    store.suspend().unwrap();
    within_two_seconds("right after loading a register", begun.elapsed());
    drop(store);
    let size = std::fs::metadata(path).unwrap().len();
    let begun = Instant::now();
    let store = Opening::at(path).open().unwrap();
    eprintln!("file of {} MiB opened and checked in {:?}", size >> 20, begun.elapsed());
    let begun = Instant::now();
    assert_eq!(store.listed().unwrap().len(), INSTRUMENTS as usize);
    eprintln!("list for the search read in {:?}", begun.elapsed());
    store
}

/// The same codes and tags in a plain database.
fn bare(path: &Path) -> rusqlite::Connection {
    let open = || {
        let bare = rusqlite::Connection::open(path).unwrap();
        bare.pragma_update_and_check(None, "locking_mode", "EXCLUSIVE", |_| Ok(())).unwrap();
        bare.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(())).unwrap();
        bare.pragma_update(None, "cache_size", -16 * 1024).unwrap();
        bare
    };
    let mut bare = open();
    bare.execute_batch("CREATE TABLE code (code TEXT PRIMARY KEY, tag TEXT) WITHOUT ROWID").unwrap();
    let fill = bare.transaction().unwrap();
    for number in 0..INSTRUMENTS {
        let tag = instrument(number).listed.tag;
        fill.execute("INSERT INTO code (code, tag) VALUES (?1, ?2)", [code(number), tag]).unwrap();
    }
    fill.commit().unwrap();
    // Opened anew like the store: on a log that is not empty SQLite saves itself a call to the system.
    drop(bare);
    open()
}

/// Codes from all over the register, so that no lookup finds its page just used.
fn asked() -> impl Iterator<Item = String> {
    (0..INSTRUMENTS).cycle().step_by(7_919).map(code)
}

fn lookup(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let store = loaded(&folder.path().join("headmark.db"));
    let bare = bare(&folder.path().join("bare.db"));
    let mut point = bare.prepare("SELECT tag FROM code WHERE code = ?1").unwrap();
    within_twice_the_bare_query(&store, &mut point);
    let mut group = c.benchmark_group("code among 100,000");
    let codes: Vec<String> = asked().take(5_000).collect();
    let mut next = codes.iter().cycle();
    group
        .bench_function("store", |b| b.iter(|| black_box(store.tags_of_code(next.next().unwrap()).unwrap())));
    let mut next = codes.iter().cycle();
    group.bench_function("bare prepared query", |b| {
        b.iter(|| black_box(query(&mut point, next.next().unwrap())))
    });
    group.finish();
}

fn query(point: &mut rusqlite::Statement<'_>, code: &str) -> String {
    point.query_row([code], |row| row.get(0)).unwrap()
}

/// Times both in turn, round by round, and compares the medians.
fn within_twice_the_bare_query(store: &Store, point: &mut rusqlite::Statement<'_>) {
    let codes: Vec<String> = asked().take(2_000).collect();
    let each = |mut ask: Box<dyn FnMut(&str) + '_>| {
        let begun = Instant::now();
        codes.iter().for_each(|code| ask(code));
        begun.elapsed()
    };
    let mut ours = Vec::new();
    let mut theirs = Vec::new();
    for _ in 0..41 {
        ours.push(each(Box::new(|code| drop(black_box(store.tags_of_code(code).unwrap())))));
        theirs.push(each(Box::new(|code| drop(black_box(query(point, code))))));
    }
    let (ours, theirs) = (median(ours), median(theirs));
    let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
    eprintln!("2,000 lookups: store {ours:?}, bare prepared query {theirs:?}, ratio {ratio:.2}");
    assert!(ratio <= 2.0, "a code lookup takes {ratio:.2} times a bare prepared point query; at most 2");
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn draft(id: &str) -> Draft {
    Draft { id: id.into(), tag: "LT-000001".into(), body: "y".repeat(4_000), saved_at: Claimed(1) }
}

fn save(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    let draft = draft("visit");
    c.bench_function("save of a draft, 4 KB", |b| b.iter(|| store.save_draft(&draft).unwrap()));
}

fn hash(seq: u64) -> PayloadHash {
    let mut hash = [0; 32];
    hash.iter_mut().zip(seq.to_be_bytes()).for_each(|(to, from)| *to = from);
    PayloadHash(hash)
}

fn sign(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    let mut seq = 0;
    c.bench_function("append of a signed visit, 1.5 KB", |b| {
        b.iter_custom(|rounds| {
            let mut time = Duration::ZERO;
            for _ in 0..rounds {
                seq += 1;
                store.save_draft(&draft("visit")).unwrap();
                let (entry, visit) = signed(seq);
                let begun = Instant::now();
                store.sign("visit", &entry, &visit).unwrap();
                time += begun.elapsed();
            }
            time
        });
    });
}

fn signed(seq: u64) -> (NewEntry, SignedVisit) {
    let place = Place { log: LOG, seq: Seq(seq) };
    let entry = NewEntry {
        place,
        hash: hash(seq),
        previous: (seq > 1).then(|| hash(seq - 1)),
        kind: Kind(1),
        bytes: vec![7; 1_500],
    };
    let visit = SignedVisit {
        place,
        tag_key: TagKey("lt000001".into()),
        tag: "LT-000001".into(),
        service: "Clear water tank level".into(),
        site: "Sedge Hill".into(),
        signed_at: Claimed(1),
        verdict: "As left within tolerance".into(),
    };
    (entry, visit)
}

/// A system gives an app a few seconds when it is sent away.
fn within_two_seconds(when: &str, took: Duration) {
    eprintln!("suspended {when} in {took:?}");
    assert!(took < Duration::from_secs(2), "a suspend {when} took {took:?}; at most 2 s");
}

/// A suspend while a visit is being filled in and a photo comes in pieces.
fn suspend(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    let draft = draft("visit");
    let mut slowest = Duration::ZERO;
    c.bench_function("suspend in the middle of work", |b| {
        b.iter_custom(|rounds| {
            let mut time = Duration::ZERO;
            for round in 0..rounds {
                (0..10).for_each(|_| store.save_draft(&draft).unwrap());
                store.keep_photo(&round.to_be_bytes().repeat(32 * 1024), "image/jpeg").unwrap();
                let begun = Instant::now();
                store.suspend().unwrap();
                let took = begun.elapsed();
                slowest = slowest.max(took);
                time += took;
            }
            time
        });
    });
    within_two_seconds("in the middle of work, at the slowest,", slowest);
}

criterion_group!(benches, lookup, save, sign, suspend);
criterion_main!(benches);
