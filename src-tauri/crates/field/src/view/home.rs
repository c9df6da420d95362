//! The first screen, finding an instrument, and the register.

use serde::Serialize;

use super::{HistoryView, Message};

/// A visit that was left open.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct DraftLine {
    /// The draft's id, by which it is opened and discarded.
    pub id: String,
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// The step it stopped at, as its word.
    pub step: String,
    /// When it was last saved, as day and minute of local time: `25 Nov 2026 11:42`.
    pub when: String,
}

/// A signed visit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct SignedLine {
    /// The id of its entry, by which its record is opened.
    pub id: String,
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// When it was signed, as day and minute of local time: `25 Nov 2026 11:42`.
    pub when: String,
    /// The verdict, in a line.
    pub verdict: String,
    /// What a supervisor decided about it, in a line; empty before.
    pub decision: String,
}

/// A visit that a supervisor returned, or a proposal that was declined.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct AnswerLine {
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// Service; empty for a proposal.
    pub service: String,
    /// Site; empty for a proposal.
    pub site: String,
    /// The visit's record; empty for a proposal, which stands on its instrument.
    pub record: String,
    /// What was decided, by whom, in which words.
    pub message: Message,
}

/// The first screen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct HomeView {
    /// Who works with this phone; empty until told.
    pub technician: String,
    /// True where they set a PIN on it.
    pub has_pin: bool,
    /// Where the data is: "3 records on this phone".
    pub status: String,
    /// Visits left open, newest first.
    pub drafts: Vec<DraftLine>,
    /// What a supervisor wants looked at, newest first; a visit to the instrument answers it.
    pub answers: Vec<AnswerLine>,
    /// Signed visits, newest first.
    pub signed: Vec<SignedLine>,
    /// How many instruments the register holds.
    pub instruments: u32,
    /// Name and date of the register loaded; empty for none.
    pub register: String,
    /// What is to be said, such as a damaged file that was salvaged.
    pub messages: Vec<Message>,
}

/// An instrument found by searching.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Hit {
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// Serial number: what confirms it.
    pub serial: String,
    /// True where the tag is what was typed, case and left-out separators aside, and no other tag may be.
    pub exact: bool,
    /// What else to say of it in its list: how far away, when due, when visited; may be empty.
    pub beside: String,
}

/// The lists that an instrument can be picked from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ListsView {
    /// What the register says is due or to be done, the most urgent first.
    pub work: Vec<Hit>,
    /// What was visited on this phone, newest first.
    pub recent: Vec<Hit>,
}

/// A site with its instruments.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct NearSite {
    /// The site's name in the register; may be empty.
    pub site: String,
    /// How far away it is; empty without a position.
    pub away: String,
    /// How many instruments it has, in words; empty with a position, where only the nearest are listed.
    pub holds: String,
    /// Its instruments; empty while it is closed.
    pub hits: Vec<Hit>,
    /// How many more it has and how to reach them; empty where all are listed or it is closed.
    pub rest: String,
}

/// What is near, or all sites where no position is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct NearView {
    /// Sites, the nearest first; without a position the one used last first.
    pub sites: Vec<NearSite>,
    /// How sure the position is, or why there is none.
    pub message: Message,
}

/// What a scanned code led to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum CodeOutcome {
    /// An instrument.
    Found {
        /// The instrument's tag, as the register writes it; never empty.
        tag: String,
        /// The code's text, made safe to show.
        code: String,
        /// What else was in view and may matter: then the person says first that this instrument is meant.
        message: Option<Message>,
    },
    /// A code that no instrument claims.
    Unknown {
        /// The code's text, made safe to show.
        code: String,
        /// What to do next.
        message: Message,
        /// True where it may be linked to an instrument.
        linkable: bool,
    },
    /// More than one instrument claims it.
    Several {
        /// The instruments that claim it, two or more.
        hits: Vec<Hit>,
        /// The text of the code that all of them claim, made safe to show; empty where they are of several codes.
        code: String,
        /// What to do next.
        message: Message,
    },
    /// No code was read.
    NotRead {
        /// What to do next.
        message: Message,
        /// True where a longer look at the same photo may still tell something.
        longer: bool,
    },
}

/// One line of the nameplate card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Plate {
    /// The name of a line: `Serial number`.
    pub what: String,
    /// What stands there, with its unit.
    pub value: String,
}

/// A code on an instrument.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct CodeLine {
    /// Its text, made safe to show.
    pub code: String,
    /// True where it was linked here and the register does not have it yet.
    pub pending: bool,
}

/// What to hold against the plate before a code is linked to an instrument.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LinkView {
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// The code's text, made safe to show.
    pub code: String,
    /// What stands on the plate.
    pub plate: Vec<Plate>,
    /// What stands against it.
    pub messages: Vec<Message>,
    /// True where the code leads to this instrument already.
    pub is_known: bool,
}

/// An instrument before a visit.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct InstrumentView {
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// The one line before anything is scanned: zone, pit, permit, fluid, phone.
    pub hazards: Vec<Message>,
    /// What the nameplate should say and what the register knows.
    pub plate: Vec<Plate>,
    /// The codes that lead to it.
    pub codes: Vec<CodeLine>,
    /// What is to be said of them and of the unit: pending, or claimed by another too.
    pub messages: Vec<Message>,
    /// A draft that is open for it.
    pub draft: Option<DraftLine>,
    /// Earlier visits that were signed on this phone, newest first.
    pub signed: Vec<SignedLine>,
    /// Its offset over the visits; none where no earlier visit is known.
    pub history: Option<HistoryView>,
    /// Why no visit can be begun here; none when one can.
    pub refusal: Option<Message>,
}

/// A bad row of a register file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct RowProblem {
    /// Its place in the file, from 1; 0 for the file itself.
    pub row: u32,
    /// The row's tag; empty where it has none, and for the file itself.
    pub tag: String,
    /// The field by its path in the row, such as `limits.url`; empty where the row or the file as a whole is meant.
    pub field: String,
    /// What is wrong and what to do.
    pub text: String,
}

/// What came of loading a register file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct RegisterReport {
    /// How many instruments were taken in.
    pub loaded: u32,
    /// The rows that were left out, and why; may be empty.
    pub problems: Vec<RowProblem>,
    /// The outcome in a sentence.
    pub text: String,
}
