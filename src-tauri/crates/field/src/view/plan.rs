//! An instrument planned before the visit: how to range it, what everyone will see, which sensor fits.

use domain::sketch::Drawing;
use serde::Serialize;

use super::{LeftView, Message};

/// A number with the same in another unit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanNumber {
    /// The number with its unit.
    pub value: String,
    /// The same in other words; may be empty.
    pub echo: String,
}

/// A way to range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum PlanWay {
    /// The offset takes the standing head out.
    Trimmed,
    /// The range takes it out.
    Raw,
}

/// What is shown at one level.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanPoint {
    /// Part of the span: `25 %`.
    pub part: String,
    /// The level at that part of the span, in the site's length unit.
    pub level: String,
    /// What the display shows, in the range's unit; the unit itself stands at the range.
    pub display: String,
    /// The loop current in mA, as a bare number.
    pub current: String,
    /// What the control room shows, in the site's length unit.
    pub control_room: String,
}

/// One way to range it, with what everyone sees.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanRange {
    /// Which of the two takes the standing head out.
    pub way: PlanWay,
    /// True for the way the register wants.
    pub wanted: bool,
    /// LRV, signed, in the display's unit.
    pub lrv: String,
    /// URV, signed, in the display's unit.
    pub urv: String,
    /// The total offset that goes with it.
    pub offset: String,
    /// The symbol of the display's unit.
    pub unit: String,
    /// Suppression or elevation, said beside the sign.
    pub wording: String,
    /// What is shown at 0, 25, 50, 75 and 100 %.
    pub points: Vec<PlanPoint>,
}

/// One sensor, judged for this installation.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanSensor {
    /// What the utility calls it.
    pub name: String,
    /// What it can take: LRL to URL.
    pub range: String,
    /// True for the one that is fitted now.
    pub fitted: bool,
    /// True where no limit is broken.
    pub fits: bool,
    /// The error to be expected, as a height and as a part of the span; empty where it does not fit.
    pub error: String,
    /// What that is made of; empty where it does not fit.
    pub made_of: String,
    /// URL over span, and what is left up to its URL; empty where it does not fit.
    pub room: String,
    /// Why it does not fit, and what could not be judged.
    pub reasons: Vec<String>,
}

/// What one input moves.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanMove {
    /// By how much of which input.
    pub what: String,
    /// What that moves at 0 %.
    pub at_zero: String,
    /// What that moves at 100 %.
    pub at_full: String,
}

/// An instrument as planned.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlanView {
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// Why no visit can be made here; none when one can.
    pub refusal: Option<Message>,
    /// What is to be said of the plan as a whole; may be empty.
    pub messages: Vec<Message>,
    /// The display's unit, with its definition.
    pub unit: String,
    /// What the columns press at level zero.
    pub standing_head: PlanNumber,
    /// What the sensor feels at 0 %.
    pub at_zero: PlanNumber,
    /// What the sensor feels at 100 %.
    pub at_full: PlanNumber,
    /// What a metre or a foot of level adds.
    pub per_level: PlanNumber,
    /// The highest pressure the process can bring, and against what.
    pub highest: PlanNumber,
    /// The installation to scale.
    pub sketch: Drawing,
    /// Both ways to range it, the one the register wants first.
    pub ranges: Vec<PlanRange>,
    /// The sensors, those that fit first.
    pub sensors: Vec<PlanSensor>,
    /// What is left over the span and the year; none where LRV and URV meet.
    pub left: Option<LeftView>,
    /// What moves the reading.
    pub moves: Vec<PlanMove>,
    /// What was taken for granted; may be empty.
    pub assumptions: Vec<Message>,
}
