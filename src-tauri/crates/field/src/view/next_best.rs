//! What to measure next, and the target that moves, on the screen.

use serde::Serialize;

use super::{Change, Message};

/// One thing worth measuring.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ProposalView {
    /// What to do, as an order: `Dip three times from the floor with Tape M-14`.
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
    /// The time of day it holds at, to the second of local time.
    pub at: String,
    /// What the display should show now, untrimmed, with unit.
    pub from: String,
    /// What to trim it to now, with unit.
    pub to: String,
    /// What the trim adds, signed, with unit; it stays the same while the target moves.
    pub by: String,
    /// How sure the target is, which gets less with time: `± 0.05 ft (95 %)`.
    pub sure: String,
    /// What the display moves by in a minute, signed, with unit.
    pub a_minute: String,
    /// That the rate is too old to go by, and what to do; none while it is followed.
    pub read_again: Option<Message>,
}
