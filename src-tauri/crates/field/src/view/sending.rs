//! Belonging to a hub, and what is sent to it.

use serde::{Deserialize, Serialize};

use super::Message;

/// How far making a phone belong to a hub has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum EnrolStage {
    /// Nothing was scanned yet.
    Begin,
    /// The digits are shown; a supervisor has to confirm them.
    Waiting,
    /// The phone belongs to a hub.
    Enrolled,
}

/// The screen on which a phone is made to belong to a hub.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct EnrolView {
    /// How far it has come.
    pub stage: EnrolStage,
    /// Which hub; empty for none.
    pub hub: String,
    /// The six digits; empty where none are to be compared.
    pub digits: String,
    /// Where it stands, in a sentence or two.
    pub says: String,
    /// What to do next, or in case of doubt.
    pub remedy: String,
    /// How the key that signs records is kept; empty where there is none yet.
    pub key: String,
}

/// Where all records are, in one line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct StatusView {
    /// Where all records are: `3 records: 2 at the hub, 1 only here`.
    pub line: String,
    /// What is going on now: "Sending: 12 of 50 records"; empty where nothing is.
    pub now: String,
    /// True where something waits to be sent.
    pub waits: bool,
    /// True where this phone belongs to a hub, or waits to.
    pub has_hub: bool,
}

/// A visit that is not whole at the hub.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct WaitingLine {
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
    /// Where it is: "Record sent, 3 photos still here".
    pub whereabouts: String,
}

/// How far sending has come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ProgressView {
    /// What is going on: "Sending records".
    pub what: String,
    /// How far: "12 of 50 records, about 310 kB to go".
    pub how_far: String,
    /// Hundredths of it that are done; none where that cannot be known.
    pub percent: Option<u32>,
}

/// What the main button does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum SendButton {
    /// Makes the phone belong to a hub.
    Enrol,
    /// Sends now.
    Send,
    /// Stops what is under way.
    Stop,
    /// Lets sending go on that was paused.
    Resume,
}

/// What is sent, what waits, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct SendView {
    /// Which hub; empty for none.
    pub hub: String,
    /// Where all records are.
    pub status: String,
    /// Why something waits; empty where nothing does.
    pub why: String,
    /// What is under way; none where nothing is.
    pub progress: Option<ProgressView>,
    /// What the main button does.
    pub button: SendButton,
    /// Visits that are not whole at the hub, oldest first.
    pub waiting: Vec<WaitingLine>,
    /// What else waits: "2 other records wait too (of links, fitted units, photos)."; empty for nothing.
    pub others: String,
    /// Photos may go where a connection is paid by volume.
    pub photos_metered: bool,
    /// Nothing is sent until the person says so.
    pub paused: bool,
    /// What went wrong, what was refused, and where a phone or its key was copied.
    pub messages: Vec<Message>,
    /// What photos take on this phone, and what of it can be given back.
    pub space: SpaceView,
}

/// What photos take on this phone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct SpaceView {
    /// What they take: "4 photos take 9.1 MB on this phone."
    pub takes: String,
    /// What may go; none where nothing may.
    pub may_go: Option<MayGoView>,
    /// What stays, and why; empty where nothing does.
    pub stays: String,
}

/// Photos that may go, since the hub has signed that they are in its backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct MayGoView {
    /// Which they are: "3 photos, 6.2 MB, are in the hub's backup and may go."
    pub says: String,
    /// The words of the button: "Free 6.2 MB".
    pub button: String,
    /// What is asked first: "Take 3 photos off this phone?"
    pub ask: String,
    /// What is lost on the phone by that, and what stays.
    pub means: String,
}

/// What kind of connection there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum Network {
    /// None.
    None,
    /// One that is paid by volume.
    Metered,
    /// One that is not.
    Unmetered,
    /// The platform does not tell.
    #[default]
    Unknown,
}

/// What came of writing a bundle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct BundleMade {
    /// Where the file is.
    pub path: String,
    /// What is in it, in a sentence.
    pub text: String,
    /// What did not go in, and what to do.
    pub messages: Vec<Message>,
}

/// What came of taking a bundle in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct BundleReport {
    /// The outcome in a sentence.
    pub text: String,
    /// What of it could not be used or differs from what is here, and what to do.
    pub messages: Vec<Message>,
}
