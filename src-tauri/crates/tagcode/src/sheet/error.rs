//! Why labels cannot be made.

use thiserror::Error;

use crate::DrawError;

/// Why labels cannot be made, with what to do next.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LabelError {
    /// The code cannot be drawn.
    #[error(transparent)]
    Code(#[from] DrawError),
    /// A sign in the tag for which there is no picture.
    #[error(
        "The tag \u{201c}{tag}\u{201d} has the sign \u{201c}{letter}\u{201d}, which a label cannot show. Labels show the letters A to Z, digits, and common signs between them."
    )]
    Letter {
        /// The tag, safe to show.
        tag: String,
        /// The sign, safe to show.
        letter: String,
    },
    /// The label is too small for the reading distance.
    #[error(
        "On a label of {width} by {height} mm the code of \u{201c}{tag}\u{201d} is read from {reached} mm at most, not from {wanted} mm. Choose a sheet with larger labels, or a shorter reading distance."
    )]
    TooSmall {
        /// The tag, safe to show.
        tag: String,
        /// The label's width, in millimetres.
        width: f64,
        /// The label's height, in millimetres.
        height: f64,
        /// From where it would be read, in whole millimetres.
        reached: u32,
        /// From where it should be.
        wanted: u32,
    },
    /// Not even one dot a module, or the modules are too few dots to print evenly.
    #[error(
        "A label of {width} by {height} mm is too small for the code of \u{201c}{tag}\u{201d} on a printer of {dpi} dots an inch. Choose a sheet with larger labels, or a finer printer."
    )]
    TooCoarse {
        /// The tag, safe to show.
        tag: String,
        /// The label's width, in millimetres.
        width: f64,
        /// The label's height, in millimetres.
        height: f64,
        /// The printer's dots an inch.
        dpi: u32,
    },
    /// The sheet has no such place.
    #[error(
        "The sheet has {places} labels; the first to be printed is to be one of 1 to {places}, not {first}."
    )]
    NoPlace {
        /// How many labels the sheet has.
        places: usize,
        /// What was asked.
        first: usize,
    },
    /// Nothing to print.
    #[error("No instrument was chosen. Choose at least one to print labels for.")]
    Nothing,
    /// More than is printed at once.
    #[error("{count} labels are more than are printed at once. Choose at most {most}.")]
    TooMany {
        /// How many there are.
        count: usize,
        /// The most.
        most: usize,
    },
    /// The picture could not be packed.
    #[error("The label's picture could not be made ({what}). Choose another printer resolution.")]
    Picture {
        /// What the packer said.
        what: String,
    },
}
