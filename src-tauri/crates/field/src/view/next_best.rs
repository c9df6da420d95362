//! What to measure next, and the target that moves, on the screen.

use serde::Serialize;

use super::{Change, Message};

/// One thing worth measuring.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ProposalView {
    /// What.
    pub what: String,
    /// What it would do to the uncertainty: `± 0.52 in now, ± 0.31 in then`.
    pub gain: String,
    /// About how long it takes.
    pub effort: String,
    /// Anything to be said beside it; may be empty.
    pub says: String,
    /// What the button does.
    pub change: Change,
}

/// What to measure next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct MeasureNextView {
    /// True when the evidence is good enough: stop.
    pub enough: bool,
    /// One sentence for how things stand.
    pub says: String,
    /// What is worth its effort, best first.
    pub proposals: Vec<ProposalView>,
}

/// Where display and target stand while the level moves.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct TargetView {
    /// The time of day it holds at.
    pub at: String,
    /// What the display should show now.
    pub from: String,
    /// What to trim it to.
    pub to: String,
    /// The change, signed.
    pub by: String,
    /// How sure the target is, which gets less with time.
    pub sure: String,
    /// What the display moves by in a minute.
    pub a_minute: String,
    /// That the rate is too old to go by, and what to do; none while it is followed.
    pub read_again: Option<Message>,
}
