//! Printing labels: what can be chosen, what was chosen, and what it will look like.

use serde::{Deserialize, Serialize};

use super::Message;

/// A kind of sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelSheet {
    /// Names it in an order.
    pub key: String,
    /// In words: "A4, 2 × 4 of 99.1 × 67.7 mm".
    pub name: String,
    /// How many labels it has.
    pub places: u32,
}

/// A site whose instruments can be chosen together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelSite {
    /// The site's name in the register.
    pub name: String,
    /// How many instruments it has.
    pub instruments: u32,
}

/// What can be chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelsView {
    /// The sites, with how many instruments each has.
    pub sites: Vec<LabelSite>,
    /// The kinds of sheets that can be printed on.
    pub sheets: Vec<LabelSheet>,
    /// Usual printers, in dots an inch.
    pub printers: Vec<u32>,
    /// Usual reading distances, in millimetres.
    pub distances: Vec<u32>,
    /// What to begin with: as it was last printed, or as most would.
    pub order: LabelOrder,
}

/// Whose labels are printed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(tag = "of", rename_all = "snake_case")]
pub enum LabelsOf {
    /// One instrument's.
    One {
        /// The instrument's tag, as the register writes it; never empty.
        tag: String,
    },
    /// All of a site.
    Site {
        /// The site's name in the register; may be empty.
        name: String,
    },
}

/// What is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum LabelFile {
    /// Sheets to print.
    Pdf,
    /// One label as a drawing.
    Svg,
    /// One label as a picture.
    Png,
}

/// What is to be printed, and how.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelOrder {
    /// Which instruments' labels are printed.
    pub labels: LabelsOf,
    /// The utility's own host, which the codes name.
    pub host: String,
    /// The key of the kind of sheet.
    pub sheet: String,
    /// The first free label of the first sheet, counted row by row from 1.
    pub first: u32,
    /// The printer's dots an inch.
    pub printer: u32,
    /// From how far they are to be read, in millimetres.
    pub distance: u32,
}

/// Where a label comes to lie on the first sheet, in tenths of a millimetre.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelPlace {
    /// Its left side, from the sheet's.
    pub x: u32,
    /// Its upper side, from the sheet's.
    pub y: u32,
    /// How wide it is.
    pub width: u32,
    /// How high it is.
    pub height: u32,
    /// Whether a label is printed there.
    pub used: bool,
}

/// What will come out of the printer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct LabelPreview {
    /// What is printed, in words: labels, sheets, the size of a module, the reading distance.
    pub lines: Vec<String>,
    /// The first label's width, in dots.
    pub width: u32,
    /// The first label's height, in dots.
    pub height: u32,
    /// Its ink, as the data of an SVG path.
    pub ink: String,
    /// What that label says, for those who cannot see it.
    pub says: String,
    /// The first sheet's width, in tenths of a millimetre.
    pub sheet_width: u32,
    /// The first sheet's height, in tenths of a millimetre.
    pub sheet_height: u32,
    /// Every place of the first sheet, row by row, printed on or left free.
    pub places: Vec<LabelPlace>,
    /// What to know before printing.
    pub messages: Vec<Message>,
}
