//! Logs: who signs them, and whether anybody vouches for that.

use std::collections::BTreeMap;
use std::future::Future;

use record::{LogId, PayloadHash, Seq};

use crate::Error;

/// Where a log stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Nobody vouches for it: what came of it is parked.
    Parked,
    /// A certificate vouches for it.
    Known,
    /// It was revoked. What stands up to the given entry still counts; none, when nothing does.
    Revoked(Option<(Seq, PayloadHash)>),
}

/// A log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogRow {
    /// Its name.
    pub log: LogId,
    /// Its public key, as COSE_Key.
    pub key: Vec<u8>,
    /// Where it stands.
    pub standing: Standing,
}

/// A log of which entries are parked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParkedLog {
    /// Its name.
    pub log: LogId,
    /// How many entries wait.
    pub entries: u64,
    /// How many bytes they have.
    pub bytes: u64,
}

/// Logs and their standing.
pub trait Logs {
    /// Returns a log.
    fn log(&self, log: LogId) -> impl Future<Output = Result<Option<LogRow>, Error>> + Send;

    /// Returns those of these logs that are here.
    fn logs_named(
        &self,
        logs: &[LogId],
    ) -> impl Future<Output = Result<BTreeMap<LogId, LogRow>, Error>> + Send;

    /// Returns up to `most` logs by their names, after one.
    fn logs(
        &self,
        after: Option<LogId>,
        most: u32,
    ) -> impl Future<Output = Result<Vec<LogRow>, Error>> + Send;

    /// Writes down that a log was revoked, or known again. Fails for one that was never known.
    fn set_standing(&self, log: LogId, standing: Standing) -> impl Future<Output = Result<(), Error>> + Send;

    /// Returns the logs of which entries wait, sorted.
    fn parked(&self) -> impl Future<Output = Result<Vec<ParkedLog>, Error>> + Send;
}
