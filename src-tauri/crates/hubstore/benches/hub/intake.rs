//! Taking in: parse, hash, verify, read what it is found by, durable commit, batch after batch. One thing after the
//! other, so that what is told is what one core does.

use std::time::Instant;

use hubstore::{Batch, Ledger, NewEntry, NewLog, Outcome};
use record::{LogId, PublicKey, SecretKey, Signer, open, verify};

use crate::Line;
use crate::made::{phone, visits};
use crate::processor;
use crate::ready::Ready;

const PHONES: u8 = 100;
const VISITS: usize = 200;
const BATCH: usize = 400;

/// The least that is enough, in entries a second of the processor, the server's processes included.
const ENOUGH: f64 = 8_000.0;

pub(crate) async fn measure(ready: &Ready) -> Vec<Line> {
    let phones: Vec<SecretKey> = (1..=PHONES).map(phone).collect();
    let known =
        phones.iter().map(|key| NewLog { log: key.public().log(), key: key.public().cose().to_vec() });
    ready.store.ingest(Batch { known: known.collect(), ..Batch::default() }).await.unwrap();
    let sent: Vec<(PublicKey, Vec<Vec<u8>>)> =
        phones.iter().map(|key| (key.public().clone(), visits(key, VISITS))).collect();
    // As they come: several phones in one batch, each with a run of its own.
    let all: Vec<(&PublicKey, &[u8])> = (0..VISITS / 50)
        .flat_map(|part| sent.iter().map(move |(key, visits)| (key, &visits[part * 50..(part + 1) * 50])))
        .flat_map(|(key, visits)| visits.iter().map(move |bytes| (key, bytes.as_slice())))
        .collect();
    let bytes: usize = all.iter().map(|(_, bytes)| bytes.len()).sum();
    let (mut proving, begun, before) = (0.0, Instant::now(), processor::seconds(ready.kind));
    for batch in all.chunks(BATCH) {
        let proved = Instant::now();
        let entries = batch.iter().map(|(key, bytes)| prove(key, bytes)).collect();
        proving += proved.elapsed().as_secs_f64();
        let done = ready.store.ingest(Batch { entries, ..Batch::default() }).await.unwrap();
        assert!(done.outcomes.iter().all(|outcome| matches!(outcome, Outcome::New(_))));
    }
    let took = begun.elapsed().as_secs_f64();
    let used = processor::seconds(ready.kind) - before;
    let count = all.len() as f64;
    let rate = count / used;
    let said = format!(
        "{} intake {rate:.0} entries/s a core, {:.0} by the clock ({count} visits of {} bytes in batches of {BATCH}; by the \
         clock {:.0} us each to parse, hash, verify, and {:.0} us to commit)",
        ready.kind,
        count / took,
        bytes / all.len(),
        proving / count * 1e6,
        (took - proving) / count * 1e6
    );
    vec![Line::say(said, rate >= ENOUGH)]
}

fn prove(key: &PublicKey, bytes: &[u8]) -> NewEntry {
    let entry = open(bytes).unwrap();
    assert_eq!(entry.id.log, LogId::of(key.cose()));
    verify(&entry, key).unwrap();
    NewEntry::of(&entry)
}
