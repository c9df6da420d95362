//! The installation drawn to scale from its numbers, and the standing offset over the visits. Screens and reports only draw what stands here.

mod described;
mod dimensions;
mod installation;
mod labels;
mod lines;
mod offsets;
mod sheet;
mod vessel;

pub use installation::{Installation, Mark};
pub use offsets::{OffsetPoint, Offsets};

use serde::Serialize;

/// What a shape or text stands for; the page gives each role its look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub enum Role {
    /// Wall of tank, riser or pipe.
    Wall,
    /// The measured liquid.
    Liquid,
    /// A lighter liquid over it.
    Light,
    /// What fills a leg or a capillary.
    Fill,
    /// The liquid's surface.
    Surface,
    /// A datum line (tank zero, 100 %, sill, hatch, floor).
    Datum,
    /// A dimension line with its ends.
    Dimension,
    /// The transmitter.
    Transmitter,
    /// The ground.
    Ground,
    /// Where the display puts the surface now.
    Shown,
    /// A label.
    Label,
    /// An axis of a chart.
    Axis,
    /// A measured point with its uncertainty.
    Measured,
    /// A measured point that no longer counts.
    Passed,
    /// A fitted line.
    Trend,
}

/// One shape, in drawing units, y down.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub enum Shape {
    /// A straight line.
    Line {
        /// Role.
        role: Role,
        /// Start.
        x1: f64,
        /// Start.
        y1: f64,
        /// End.
        x2: f64,
        /// End.
        y2: f64,
    },
    /// A rectangle.
    Rect {
        /// Role.
        role: Role,
        /// Left.
        x: f64,
        /// Top.
        y: f64,
        /// Width.
        w: f64,
        /// Height.
        h: f64,
    },
    /// A text.
    Text {
        /// Role.
        role: Role,
        /// Anchor.
        x: f64,
        /// Baseline.
        y: f64,
        /// `start`, `middle` or `end`.
        anchor: String,
        /// The words.
        text: String,
    },
}

/// A drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Drawing {
    /// Width of the drawing area.
    pub width: f64,
    /// Height of the drawing area.
    pub height: f64,
    /// A sentence for those who cannot see it.
    pub description: String,
    /// Back to front.
    pub shapes: Vec<Shape>,
}
