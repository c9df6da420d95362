//! Visits that wait to be worked out again, and what came of it.

use std::collections::BTreeMap;
use std::future::Future;

use record::EntryId;

use crate::{Arrival, Error, Moment};

/// A visit to be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Job {
    /// The entry's arrival, which names the job.
    pub arrival: Arrival,
    /// The entry.
    pub id: EntryId,
    /// How often it was claimed, this time included.
    pub tries: u32,
}

/// What working a visit out again found.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Found {
    /// The same.
    Agrees,
    /// Something else; the text says what and by how much.
    Differs(String),
    /// It was made with an older model, which is not here any more: not checked, and no fault.
    OtherModel(u32),
    /// It says that it was made with a model newer than this hub's: not checked until the hub is newer too.
    NewerModel(u32),
    /// It could not be read or worked out; the text says why.
    Unreadable(String),
}

impl Found {
    /// Returns the word that stands for it.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Found::Agrees => "agrees",
            Found::Differs(_) => "differs",
            Found::OtherModel(_) => "other_model",
            Found::NewerModel(_) => "newer_model",
            Found::Unreadable(_) => "unreadable",
        }
    }

    pub(crate) fn detail(&self) -> String {
        match self {
            Found::Agrees => String::new(),
            Found::Differs(text) | Found::Unreadable(text) => text.clone(),
            Found::OtherModel(model) | Found::NewerModel(model) => model.to_string(),
        }
    }

    pub(crate) fn from_parts(word: &str, detail: String) -> Option<Found> {
        match word {
            "agrees" => Some(Found::Agrees),
            "differs" => Some(Found::Differs(detail)),
            "other_model" => detail.parse().ok().map(Found::OtherModel),
            "newer_model" => detail.parse().ok().map(Found::NewerModel),
            "unreadable" => Some(Found::Unreadable(detail)),
            _ => None,
        }
    }
}

/// What was found about one visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkedOut {
    /// The entry's arrival.
    pub arrival: Arrival,
    /// The entry.
    pub id: EntryId,
    /// What was found.
    pub found: Found,
}

/// How many visits wait, and how many were found how.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tally {
    /// Those that wait.
    pub waiting: u64,
    /// Those done, by the word of what was found.
    pub done: BTreeMap<String, u64>,
}

/// The queue. Each new visit enters it in the transaction that takes it in.
pub trait Jobs {
    /// Claims up to `most` jobs that nobody holds at `now`, until a moment. Who does not finish by then loses them to
    /// the next; working one out twice does no harm.
    fn claim(
        &self,
        now: Moment,
        until: Moment,
        most: u32,
    ) -> impl Future<Output = Result<Vec<Job>, Error>> + Send;

    /// Writes down what was found and takes the jobs out of the queue. A later finding replaces an earlier one.
    fn finish(&self, found: &[(Arrival, Found)]) -> impl Future<Output = Result<(), Error>> + Send;

    /// Puts the visits with findings of one word into the queue again, as after an update of the model, and returns how
    /// many those are. Findings stand until replaced.
    fn requeue(&self, word: &str) -> impl Future<Output = Result<u64, Error>> + Send;

    /// Returns what was found about an entry.
    fn found(&self, id: EntryId) -> impl Future<Output = Result<Option<Found>, Error>> + Send;

    /// Returns up to `most` findings of one word, newest entry first, before one.
    fn findings(
        &self,
        word: &str,
        before: Option<Arrival>,
        most: u32,
    ) -> impl Future<Output = Result<Vec<WorkedOut>, Error>> + Send;

    /// Counts.
    fn tally(&self) -> impl Future<Output = Result<Tally, Error>> + Send;
}
