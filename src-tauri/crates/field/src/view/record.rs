//! A visit to read over: before signing, and for ever after.

use serde::Serialize;

use super::{HistoryView, Message, VerdictView, WorkView};

/// One line to read over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ReviewLine {
    /// What.
    pub what: String,
    /// As answered, or as worked out.
    pub value: String,
    /// How it was read; may be empty.
    pub echo: String,
}

/// One part of the visit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ReviewPart {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<ReviewLine>,
}

/// A signed record on the screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct RecordView {
    /// Its entry's id.
    pub id: String,
    /// Tag.
    pub tag: String,
    /// Service.
    pub service: String,
    /// Site.
    pub site: String,
    /// When it was signed.
    pub when: String,
    /// By whom.
    pub technician: String,
    /// How the phone that it was signed on knew who signs: "By PIN", "No".
    pub confirmed: String,
    /// From, to, by, how sure, in a line each.
    pub shift: Vec<ReviewLine>,
    /// The verdict.
    pub verdict: VerdictView,
    /// Everything, part by part.
    pub parts: Vec<ReviewPart>,
    /// The instrument's offset over the visits, this one last; none where it is the first known.
    pub history: Option<HistoryView>,
    /// The working.
    pub working: Vec<WorkView>,
    /// What was assumed.
    pub assumptions: Vec<Message>,
    /// What was warned about.
    pub warnings: Vec<Message>,
    /// "Signature checked", or what is wrong.
    pub proof: String,
    /// Its photos: "1 photo"; empty for none.
    pub photos: String,
    /// Where the record is: "on this phone".
    pub whereabouts: String,
    /// What a supervisor decided about it; none before.
    pub decision: Option<Message>,
}
