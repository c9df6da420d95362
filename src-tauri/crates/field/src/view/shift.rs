//! The shift on the screen: from, to, by how much, how sure, and why.

use serde::Serialize;

use super::{Message, Remedy};

/// One of the three levels side by side: display, current, control room.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Level3 {
    /// `display`, `current` or `control_room`.
    pub who: String,
    /// As read, with unit; empty when skipped.
    pub read: String,
    /// The level it means, in the site's length unit; empty when unknown.
    pub level: String,
    /// What is to be said of it (NE 43 band, out of step); may be empty.
    pub says: String,
}

/// What the Shift screen is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum ShiftState {
    /// Trim it.
    Trim,
    /// Inside the adjust limit: do not adjust.
    DoNotAdjust,
    /// The evidence does not determine it.
    NotDetermined,
    /// Something stands before it (standing head not settled, limits exceeded).
    Blocked,
}

/// One line of the working.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct WorkView {
    /// What is being worked out.
    pub what: String,
    /// How.
    pub how: String,
    /// The value, with unit.
    pub value: String,
}

/// One line of the uncertainty budget.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct BudgetLine {
    /// The input.
    pub what: String,
    /// Its value with unit.
    pub value: String,
    /// Its standard uncertainty with unit.
    pub standard: String,
    /// Its distribution and divisor.
    pub distribution: String,
    /// Change of the shift for one unit of the input.
    pub sensitivity: String,
    /// Its part of the shift's standard uncertainty, in the reading unit.
    pub contribution: String,
    /// Degrees of freedom.
    pub freedom: String,
    /// Its share of the variance, 0 to 100.
    pub share: f64,
}

/// What one reference alone would say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ReferenceLine {
    /// Which.
    pub what: String,
    /// The shift by it alone, with unit; empty when it determines none alone.
    pub shift: String,
    /// Its expanded uncertainty.
    pub uncertainty: String,
    /// How it agrees with each other line, by name and with En, the worst first; or that it gives no number.
    pub says: String,
}

/// The Shift screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ShiftView {
    /// What it is about.
    pub state: ShiftState,
    /// The display unit, with its definition.
    pub unit: String,
    /// Display now.
    pub from: String,
    /// Display to be.
    pub to: String,
    /// The change, signed.
    pub by: String,
    /// "± 0.03 ft (95 %)".
    pub sure: String,
    /// The new total offset; empty when the carried one is unknown.
    pub total: String,
    /// Level by the evidence, in both systems.
    pub level: String,
    /// One sentence for all that.
    pub headline: String,
    /// The rule in force, in words.
    pub rule: String,
    /// The working.
    pub working: Vec<WorkView>,
    /// What is assumed.
    pub assumptions: Vec<Message>,
    /// Warnings and refusals.
    pub warnings: Vec<Message>,
    /// The ways out, in their order, where nothing is determined.
    pub ways_out: Vec<Remedy>,
    /// Each reference alone.
    pub references: Vec<ReferenceLine>,
    /// The budget.
    pub budget: Vec<BudgetLine>,
    /// True while the level moves: the target moves with it, and is to be asked for again and again.
    pub moving: bool,
    /// How this unit is adjusted: the utility's note.
    pub adjust_note: String,
}

/// The verdict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct VerdictView {
    /// A stable word for it.
    pub code: String,
    /// The verdict in a few words.
    pub short: String,
    /// What it says beyond those; may be empty.
    pub detail: String,
    /// The whole verdict in words, as it is signed.
    pub text: String,
    /// Error as found, in level and % of span.
    pub as_found: String,
    /// Error as left.
    pub as_left: String,
    /// Its expanded uncertainty.
    pub uncertainty: String,
    /// The tolerance.
    pub tolerance: String,
    /// The decision rule used.
    pub rule: String,
}
