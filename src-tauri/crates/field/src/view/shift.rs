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
    /// The formula with its numbers put in, or where the value is from; may be empty.
    pub how: String,
    /// What comes out, with its unit.
    pub value: String,
}

/// One line of the uncertainty budget.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct BudgetLine {
    /// What the input is, in words: `display`, `hatch mark above zero`.
    pub what: String,
    /// Its value with its unit: `14.2560 m`, `4.00 mm`, `101.5 Pa`.
    pub value: String,
    /// Its standard uncertainty, in the units of the value.
    pub standard: String,
    /// Its distribution, and what divides its width to make it standard: `rectangular, ÷ 1.73`.
    pub distribution: String,
    /// Change of the shift for one unit of the input.
    pub sensitivity: String,
    /// Its part of the shift's standard uncertainty, in the reading unit.
    pub contribution: String,
    /// Its degrees of freedom, whole; `∞` where there is no end of them.
    pub freedom: String,
    /// Its share of the variance, 0 to 100.
    pub share: f64,
}

/// What one reference alone would say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ReferenceLine {
    /// What the reference is, counted where several are called alike: `dip 2`; or two that speak only together.
    pub what: String,
    /// The shift by it alone, with unit; empty when it determines none alone.
    pub shift: String,
    /// Its expanded uncertainty in the reading unit: `± 0.03 ft`; empty where there is no shift.
    pub uncertainty: String,
    /// How it agrees with each other line, by name and with En, the worst first; or that it gives no number.
    pub says: String,
}

/// The Shift screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct ShiftView {
    /// Whether to trim, to leave it, or why neither is said.
    pub state: ShiftState,
    /// The display unit, with its definition.
    pub unit: String,
    /// What the display shows before the trim, with unit; empty where no shift is given.
    pub from: String,
    /// What to trim it to, with unit; empty where no shift is given.
    pub to: String,
    /// What the trim adds, signed, with unit; empty where no shift is given.
    pub by: String,
    /// How sure the target is: `± 0.03 ft (95 %)`; empty where no shift is given.
    pub sure: String,
    /// The new total offset; empty when the carried one is unknown.
    pub total: String,
    /// Level by the evidence, in both systems; empty where none tells one.
    pub level: String,
    /// One sentence for all that.
    pub headline: String,
    /// The rule in force, in words.
    pub rule: String,
    /// The shift line by line, each formula with its numbers.
    pub working: Vec<WorkView>,
    /// What was taken for granted, with its share of the doubt; may be empty.
    pub assumptions: Vec<Message>,
    /// Warnings and refusals, with a field where a reason is wanted; may be empty.
    pub warnings: Vec<Message>,
    /// The ways out, in their order, where nothing is determined.
    pub ways_out: Vec<Remedy>,
    /// What each reference would say alone; empty where no shift is given.
    pub references: Vec<ReferenceLine>,
    /// What the uncertainty is made of, input by input; empty where no shift is given.
    pub budget: Vec<BudgetLine>,
    /// True while the level moves: the target moves with it, and is to be asked for again and again.
    pub moving: bool,
    /// How this unit is adjusted, in the utility's words; may be empty.
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
    /// Error as found, in level and % of span; empty where the evidence determines none.
    pub as_found: String,
    /// Error as left, in level and % of span; empty until there is one.
    pub as_left: String,
    /// The expanded uncertainty of the error as left, or as found before that: `± 0.4 in (95 %)`; empty without
    /// either.
    pub uncertainty: String,
    /// The register's tolerance, in the site's length unit.
    pub tolerance: String,
    /// The decision rule in a sentence; empty where nothing was judged by one.
    pub rule: String,
}
