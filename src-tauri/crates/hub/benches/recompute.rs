//! How many visits a second a hub works out again on one core, the queue on its file included; fails below what is enough.
//!
//! The visits are fifty that were signed on a phone, with all the evidence of a round of visits; their answers are worked
//! out by today's model and signed anew, since an older model's are not worked out. The time is the processor's, so that
//! what else the machine does is not counted.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a program that measures: a panic here is the message"
)]

use std::path::Path;
use std::process::ExitCode;

use bodies::{VISIT, VISIT_VERSION, Visit};
use domain::visit::{Draft, assess};
use hub::Store;
use hub::clock::{Clock, Moment};
use hub::recompute::{compare, work_off};
use hubstore::{Batch, Found, Jobs, Ledger, NewEntry, NewLog, Opening};
use record::{Link, Sealed, SecretKey, Signer, open, read_export, seal};
use rustix::time::{ClockId, clock_gettime};

/// The least that is enough, in visits a second of the processor.
const ENOUGH: f64 = 400.0;
/// How often the fifty visits are worked out.
const ROUNDS: u32 = 20;
/// 2026-11-25 in milliseconds.
const NOW: i64 = 20_782 * 86_400_000;

fn main() -> ExitCode {
    // Cargo runs the targets of benches in tests too, without this word: then there is nothing to measure.
    if !std::env::args().any(|word| word == "--bench") {
        return ExitCode::SUCCESS;
    }
    let key = SecretKey::take(&mut [50; 32]);
    let visits = visits(&key);
    let alone = rate(ROUNDS, || {
        for visit in &visits {
            let visit = open(&visit.bytes).unwrap();
            assert_eq!(compare(&visit), Some(Found::Agrees), "only what agrees is worked out to the end");
        }
        visits.len()
    });
    // One thread, so that what is told is what one core does.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let stores: Vec<_> = (0..ROUNDS).map(|_| runtime.block_on(waiting(&key, &visits))).collect();
    let mut stores = stores.iter();
    let clock = Clock::set_at(Moment(NOW));
    let queued = rate(ROUNDS, || {
        let (store, _folder) = stores.next().unwrap();
        let done = runtime.block_on(work_off(store, &clock)).unwrap();
        assert_eq!(runtime.block_on(store.tally()).unwrap().done["agrees"], done);
        usize::try_from(done).unwrap()
    });
    println!(
        "result: worked out again {queued:.0} visits/s a core from the queue on SQLite, {alone:.0} without it (at least \
         {ENOUGH:.0} are asked)"
    );
    if queued >= ENOUGH { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// The fifty visits, signed by a phone.
fn visits(key: &SecretKey) -> Vec<Sealed> {
    let fifty =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../tests/suite/wire/fifty-visits/fifty.headmark");
    let file = std::fs::read(fifty).unwrap();
    let mut link = Link::First;
    let mut visits = Vec::new();
    for entry in read_export(&file).unwrap().entries {
        let mut visit = Visit::of_entry(&entry).unwrap();
        let draft = Draft::again(&visit.finished);
        visit.finished = assess(&draft).unwrap().finish(&draft).unwrap();
        let claimed = entry.header.claimed;
        let new = record::NewEntry { link, kind: VISIT, body_version: VISIT_VERSION, claimed, boot: None };
        let sealed = seal(&new, &visit.encode().unwrap(), key).unwrap();
        link = sealed.next();
        visits.push(sealed);
    }
    visits
}

/// A hub's file in which the visits wait.
async fn waiting(key: &SecretKey, visits: &[Sealed]) -> (Store, tempfile::TempDir) {
    // Beside the build, not in the folder for temporary files: that may be memory, which syncs for nothing.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let store: Store = Opening::at(folder.path().join("hub.db")).open().unwrap().into();
    let known = vec![NewLog { log: key.public().log(), key: key.public().cose().to_vec() }];
    let entries = visits.iter().map(|visit| NewEntry::of(&open(&visit.bytes).unwrap())).collect();
    store.ingest(Batch { known, entries, ..Batch::default() }).await.unwrap();
    (store, folder)
}

/// Does something a number of times and returns how many visits a second of the processor that were.
fn rate(times: u32, mut something: impl FnMut() -> usize) -> f64 {
    let before = used();
    let visits: usize = (0..times).map(|_| something()).sum();
    visits as f64 / (used() - before)
}

/// Seconds of the processor used by this program.
fn used() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 + time.tv_nsec as f64 / 1e9
}
