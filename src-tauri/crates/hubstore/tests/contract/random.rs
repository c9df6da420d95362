//! Any batches, in any order and cut anyhow, beside a model that keeps plain sets.

use std::collections::{BTreeMap, BTreeSet};
use std::future::Future;

use exchange::run::Run;
use hubstore::{AnyStore, Batch, Ledger, Logs, NewEntry, Outcome};
use proptest::prelude::*;
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::home::Home;
use crate::writer::Writer;

/// Two writers whose logs each fork once, at places drawn by chance: 14 entries.
fn entries(forks: [usize; 2]) -> (Vec<Writer>, Vec<NewEntry>) {
    let mut all = Vec::new();
    let mut writers = Vec::new();
    for (number, fork) in [(1, forks[0]), (2, forks[1])] {
        let mut writer = Writer::number(number);
        let mut back = writer.link;
        for at in 0..5 {
            if at == fork {
                back = writer.link;
            }
            all.push(writer.say(90, &format!("{at}")));
        }
        writer.link = back;
        all.extend([writer.say(90, "other"), writer.say(90, "branch")]);
        writers.push(writer);
    }
    (writers, all)
}

/// What a plain keeper would have.
#[derive(Default)]
struct Model {
    known: BTreeSet<LogId>,
    held: BTreeSet<EntryId>,
    parked: BTreeSet<EntryId>,
}

impl Model {
    fn take(&mut self, batch: &Batch) -> (Vec<&'static str>, BTreeSet<EntryId>) {
        self.known.extend(batch.known.iter().map(|known| known.log));
        let adopted: BTreeSet<EntryId> =
            self.parked.iter().filter(|id| self.known.contains(&id.log)).copied().collect();
        self.parked.retain(|id| !adopted.contains(id));
        self.held.extend(&adopted);
        let outcomes = batch.entries.iter().map(|entry| self.outcome(entry.id)).collect();
        (outcomes, adopted)
    }

    fn outcome(&mut self, id: EntryId) -> &'static str {
        if !self.known.contains(&id.log) {
            self.parked.insert(id);
            return "parked";
        }
        let fork = self.held.iter().any(|held| (held.log, held.seq) == (id.log, id.seq));
        match (self.held.insert(id), fork) {
            (false, _) => "already",
            (true, true) => "fork",
            (true, false) => "new",
        }
    }
}

fn word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::New(_) => "new",
        Outcome::Fork(_) => "fork",
        Outcome::Already => "already",
        Outcome::Parked => "parked",
        Outcome::Refused(_) => "refused",
    }
}

/// All places that runs cover, each with the payload there, found by walking back from each end.
fn covered(log: LogId, runs: &[Run], parents: &BTreeMap<EntryId, Option<PayloadHash>>) -> BTreeSet<EntryId> {
    let mut covered = BTreeSet::new();
    for run in runs {
        let mut id = EntryId { log, seq: run.to, payload: run.end };
        loop {
            assert!(covered.insert(id), "two runs hold one entry");
            let previous = parents[&id];
            if id.seq == run.from {
                assert_eq!(previous, run.before);
                break;
            }
            id = EntryId { log, seq: Seq::new(id.seq.get() - 1).unwrap(), payload: previous.unwrap() };
        }
    }
    covered
}

async fn compare(store: &AnyStore, forks: [usize; 2], batches: Vec<(Vec<usize>, Option<usize>)>) {
    let (writers, all) = entries(forks);
    let parents = all.iter().map(|entry| (entry.id, entry.previous)).collect();
    let mut model = Model::default();
    for (picks, vouched) in batches {
        let batch = Batch {
            known: vouched.iter().map(|at| writers[*at].known()).collect(),
            entries: picks.iter().map(|at| all[*at].clone()).collect(),
            ..Batch::default()
        };
        let (outcomes, adopted) = model.take(&batch);
        let done = store.ingest(batch).await.unwrap();
        assert_eq!(done.outcomes.into_iter().map(word).collect::<Vec<_>>(), outcomes);
        assert_eq!(done.adopted.into_iter().collect::<BTreeSet<_>>(), adopted);
        settled(store, &writers, &all, &parents, &model).await;
    }
}

async fn settled(
    store: &AnyStore,
    writers: &[Writer],
    all: &[NewEntry],
    parents: &BTreeMap<EntryId, Option<PayloadHash>>,
    model: &Model,
) {
    let ids: Vec<EntryId> = all.iter().map(|entry| entry.id).collect();
    let holds: Vec<bool> = ids.iter().map(|id| model.held.contains(id)).collect();
    assert_eq!(store.holds(&ids).await.unwrap(), holds);
    assert_eq!(store.newest().await.unwrap().0, model.held.len() as u64);
    let parked: u64 = store.parked().await.unwrap().iter().map(|log| log.entries).sum();
    assert_eq!(parked, model.parked.len() as u64);
    for writer in writers {
        let log = writer.log();
        let runs = store.runs(&[log]).await.unwrap().remove(&log).unwrap_or_default();
        let held: BTreeSet<EntryId> = model.held.iter().filter(|id| id.log == log).copied().collect();
        assert_eq!(covered(log, runs.all(), parents), held);
        for run in runs.all() {
            let parent = run.before.map(|payload| EntryId {
                log,
                seq: Seq::new(run.from.get() - 1).unwrap(),
                payload,
            });
            assert_eq!(run.rooted, parent.is_none_or(|parent| held.contains(&parent)));
        }
    }
    let forked: BTreeSet<(LogId, Seq)> =
        store.forks().await.unwrap().iter().map(|fork| (fork.log, fork.seq)).collect();
    let mut places = BTreeMap::<(LogId, Seq), u32>::new();
    model.held.iter().for_each(|id| *places.entry((id.log, id.seq)).or_default() += 1);
    let expected = places.into_iter().filter(|(_, count)| *count > 1).map(|(place, _)| place).collect();
    assert_eq!(forked, expected);
}

/// Compares many random stories, each on a fresh store.
pub(crate) fn ingest_agrees_with_the_model<F: Future<Output = Home>>(open: fn() -> F) {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    let picks = proptest::collection::vec(0_usize..14, 0..10);
    let batches = proptest::collection::vec((picks, proptest::option::of(0_usize..2)), 1..6);
    let config = ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = proptest::test_runner::TestRunner::new(config);
    let story = ([0_usize..5, 0_usize..5], batches);
    let outcome = runner.run(&story, |(forks, batches)| {
        runtime.block_on(async {
            let home = open().await;
            compare(&home.store, forks, batches).await;
        });
        Ok(())
    });
    outcome.unwrap();
}
