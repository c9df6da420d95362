//! The have set: what is held of each log.

use std::collections::BTreeMap;

use bodies::HeldRun;
use record::LogId;

use crate::run::Runs;

/// What is held, by log.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct HaveSet(pub BTreeMap<LogId, Vec<HeldRun>>);

impl HaveSet {
    /// Puts in what is held of a log; nothing is left out.
    pub fn put(&mut self, log: LogId, runs: &Runs) {
        self.0.insert(log, held(runs));
    }
}

/// Returns runs as they are told to others, by have sets and by receipts.
#[must_use]
pub fn held(runs: &Runs) -> Vec<HeldRun> {
    runs.all().iter().map(|run| HeldRun { from: run.from, to: run.to, end: run.end }).collect()
}
