//! The eight steps in their order.

use serde::{Deserialize, Serialize};

/// One of the eight steps of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub enum Step {
    /// Which instrument is this? Confirmed against the nameplate.
    Find,
    /// Control room told, loop in manual, alarms inhibited, the site's own safety items.
    MakeSafe,
    /// What it shows before anything is touched, and where the standing head is taken out now.
    AsFound,
    /// The reference measurements of the day.
    Evidence,
    /// Whether to adjust, from what, to what, how sure.
    Shift,
    /// What it shows afterwards, and the verdict.
    AsLeft,
    /// Valves, loop, alarms, control room.
    BackInService,
    /// Review and sign.
    Sign,
}

impl Step {
    /// All steps, first to last.
    pub const ALL: [Step; 8] = [
        Step::Find,
        Step::MakeSafe,
        Step::AsFound,
        Step::Evidence,
        Step::Shift,
        Step::AsLeft,
        Step::BackInService,
        Step::Sign,
    ];

    /// Returns the step after this one, or `None` after the last.
    #[must_use]
    pub fn next(self) -> Option<Step> {
        let at = Step::ALL.iter().position(|step| *step == self)?;
        Step::ALL.get(at + 1).copied()
    }
}
