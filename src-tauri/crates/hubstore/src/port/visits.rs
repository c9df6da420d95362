//! The list of visits, newest first.

use std::future::Future;

use bodies::{Confirmed, PersonId};
use record::EntryId;

use crate::{Arrival, Error, TagKey};

/// What a list says of a visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitLine {
    /// The instrument's tag, as the visit has it.
    pub tag: String,
    /// The site's name.
    pub site: String,
    /// When it was signed, in milliseconds since 1970, as the phone's clock claimed.
    pub claimed: i64,
    /// The verdict's word.
    pub verdict: String,
    /// Who was there.
    pub technician: PersonId,
    /// How the phone knew.
    pub confirmed: Confirmed,
    /// The number of the model that worked it out.
    pub model: u32,
}

/// A visit in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitRow {
    /// When it came.
    pub arrival: Arrival,
    /// The entry that says it.
    pub id: EntryId,
    /// What it says.
    pub line: VisitLine,
}

/// Which visits are looked for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct VisitsAsked {
    /// Of one instrument.
    pub tag: Option<TagKey>,
    /// Of one site.
    pub site: Option<String>,
    /// Older than this one: the last of the page before.
    pub before: Option<Arrival>,
    /// The most.
    pub most: u32,
}

/// The list of visits: a view of the ledger.
pub trait Visits {
    /// Returns a page of visits, newest first.
    fn visits(&self, asked: &VisitsAsked) -> impl Future<Output = Result<Vec<VisitRow>, Error>> + Send;

    /// Returns how many visits are held.
    fn visit_count(&self) -> impl Future<Output = Result<u64, Error>> + Send;
}
