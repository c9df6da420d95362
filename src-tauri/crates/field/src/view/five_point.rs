//! The five-point check on the screen.

use serde::Serialize;

use super::{FieldView, WorkView};

/// One point of a check: a row to fill in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PointView {
    /// Its row, counted from 0.
    pub row: u32,
    /// Where it stands and which way the input goes: "50 % up".
    pub at: String,
    /// What the usual walk applies here, as text to put in, and how it reads; none where it is filled in.
    pub offer: Option<AppliedOffer>,
    /// What was applied, what the display and the loop showed.
    pub fields: Vec<FieldView>,
    /// The errors, or why there are none.
    pub says: Vec<String>,
}

/// A value to apply, put in by one touch once it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct AppliedOffer {
    /// The text to send.
    pub text: String,
    /// How it reads, with its unit.
    pub label: String,
}

/// What a check came to, by the display or by the loop current.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct CheckView {
    /// `display` or `loop current`.
    pub by: String,
    /// The verdict in a sentence.
    pub verdict: String,
    /// The rule it was reached by; may be empty.
    pub rule: String,
    /// Zero, span, hysteresis, linearity, each with how it was worked out.
    pub lines: Vec<WorkView>,
}

/// The five-point check of a step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct FivePointView {
    /// Whether there is a source, and which; as left it is the same one.
    pub fields: Vec<FieldView>,
    /// The points, with one empty one at the end.
    pub points: Vec<PointView>,
    /// What it came to, by the display and by the loop current; empty before the first point.
    pub checks: Vec<CheckView>,
}
