//! A visit to read over: before signing, and for ever after.

use serde::Serialize;

use super::{HistoryView, Message, VerdictView, WorkView};

/// One line to read over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ReviewLine {
    /// What was asked or worked out, by its name in a record.
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
    /// The step's name, or that of a piece of evidence.
    pub title: String,
    /// What was answered there, in the order of the questions; empty for a piece of which nothing was said.
    pub lines: Vec<ReviewLine>,
}

/// A signed record on the screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct RecordView {
    /// The id of its entry: the log's name and the place in it.
    pub id: String,
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// When it was signed, as day and minute of the signing phone's local time: `25 Nov 2026 11:42`.
    pub when: String,
    /// Who signed it: their name, or how their number begins where no name is known here.
    pub technician: String,
    /// How the phone that it was signed on knew who signs: "By PIN", "No".
    pub confirmed: String,
    /// From, to, by, how sure, in a line each.
    pub shift: Vec<ReviewLine>,
    /// The verdict as it was signed.
    pub verdict: VerdictView,
    /// Everything, part by part.
    pub parts: Vec<ReviewPart>,
    /// The instrument's offset over the visits, this one last; none where it is the first known.
    pub history: Option<HistoryView>,
    /// The working as it was shown and signed, line by line.
    pub working: Vec<WorkView>,
    /// What was assumed, as signed; may be empty.
    pub assumptions: Vec<Message>,
    /// What was warned about, as signed; may be empty.
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
