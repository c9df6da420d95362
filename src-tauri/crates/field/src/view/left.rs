//! What is left over the span after the trim.

use serde::Serialize;

use super::Message;

/// The error at one level.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LeftPoint {
    /// Part of the span: `25 %`.
    pub part: String,
    /// The level at that part of the span, in the site's length unit.
    pub level: String,
    /// The error today, signed.
    pub today: String,
    /// Its expanded uncertainty; empty where there is no evidence.
    pub uncertainty: String,
    /// The error when the liquid is coldest; empty where that is not known.
    pub coldest: String,
    /// The error when it is warmest; empty where that is not known.
    pub warmest: String,
}

/// LRV and URV that would leave less over the year.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct CorrectedView {
    /// LRV, signed, in the display's unit.
    pub lrv: String,
    /// URV, signed, in the display's unit.
    pub urv: String,
    /// What they would leave at most.
    pub worst: String,
    /// What they change and what not.
    pub says: String,
}

/// What is left over the span.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LeftView {
    /// The worst in a sentence.
    pub headline: String,
    /// The liquid's temperature today, with its unit.
    pub today: String,
    /// The coldest it gets; empty where it is not known.
    pub coldest: String,
    /// The warmest it gets; empty where it is not known.
    pub warmest: String,
    /// The errors over the span.
    pub points: Vec<LeftPoint>,
    /// A range that would leave less, where the worst exceeds a third of the tolerance.
    pub corrected: Option<CorrectedView>,
    /// What is to be said of it.
    pub messages: Vec<Message>,
}
