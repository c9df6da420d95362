//! An instrument over its visits.

use domain::sketch::Drawing;
use serde::Serialize;

use super::WorkView;

/// One visit of the past, in the table beside the chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct HistoryRow {
    /// The day it was made on: `2025-11-20`.
    pub date: String,
    /// The standing offset at the common density; empty when it did not follow.
    pub offset: String,
    /// Its expanded uncertainty, in the unit of the offset; empty without one.
    pub uncertainty: String,
    /// The error as found; empty when it was not judged.
    pub found: String,
    /// The unit's serial number; empty where the visit named none.
    pub serial: String,
    /// False for what lies before another unit was fitted or the transmitter was moved.
    pub current: bool,
}

/// The history of an instrument.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct HistoryView {
    /// Standing offset against date; none where no visit holds one.
    pub chart: Option<Drawing>,
    /// The visits, newest first.
    pub rows: Vec<HistoryRow>,
    /// Drift, steps, the next interval and when it is due.
    pub lines: Vec<WorkView>,
}
