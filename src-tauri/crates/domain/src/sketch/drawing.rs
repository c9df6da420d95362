//! What a drawing is made of: lines, rectangles and texts, each with what it stands for.

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
        /// What it stands for.
        role: Role,
        /// Where it starts, from the left.
        x1: f64,
        /// Where it starts, from above.
        y1: f64,
        /// Where it ends, from the left.
        x2: f64,
        /// Where it ends, from above.
        y2: f64,
    },
    /// A rectangle.
    Rect {
        /// What it stands for.
        role: Role,
        /// Its left side, from the left.
        x: f64,
        /// Its upper side, from above.
        y: f64,
        /// How wide it is.
        w: f64,
        /// How high it is.
        h: f64,
    },
    /// A text.
    Text {
        /// What it stands for.
        role: Role,
        /// Its anchor, from the left.
        x: f64,
        /// Its baseline, from above.
        y: f64,
        /// Which part of the text stands at the anchor: `start`, `middle` or `end`.
        anchor: String,
        /// What is written; never empty.
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
