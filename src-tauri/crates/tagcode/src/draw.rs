//! A code from a text.

use qrcode::{EcLevel, QrCode};
use thiserror::Error;

use crate::Gray;

/// How much of a code may be lost and still be read (ISO/IEC 18004: about 7, 15, 25 and 30 %).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// 7 %.
    Low,
    /// 15 %.
    Medium,
    /// 25 %: what a label outdoors wants.
    Quarter,
    /// 30 %.
    High,
}

/// Why a code cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DrawError {
    /// Nothing to say.
    #[error("There is no text to put into the code. Give the tag's link.")]
    Empty,
    /// Too long for any code.
    #[error("The text is too long for a code. Use a shorter link.")]
    TooLong,
}

/// Modules of quiet zone on each side (ISO/IEC 18004).
pub(crate) const QUIET: usize = 4;

/// A code as its modules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    side: usize,
    dark: Vec<bool>,
}

impl Code {
    /// Returns the smallest code that holds a text at a strength.
    ///
    /// # Errors
    ///
    /// [`DrawError`] for an empty text and one that no code can hold.
    pub fn of(text: &str, strength: Strength) -> Result<Code, DrawError> {
        if text.is_empty() {
            return Err(DrawError::Empty);
        }
        let level = match strength {
            Strength::Low => EcLevel::L,
            Strength::Medium => EcLevel::M,
            Strength::Quarter => EcLevel::Q,
            Strength::High => EcLevel::H,
        };
        let code = QrCode::with_error_correction_level(text, level).map_err(|_| DrawError::TooLong)?;
        let dark = code.to_colors().into_iter().map(|color| color == qrcode::Color::Dark).collect();
        Ok(Code { side: code.width(), dark })
    }

    /// Returns how many modules a side has, quiet zone not included.
    #[must_use]
    pub fn side(&self) -> usize {
        self.side
    }

    /// Tells whether a module is dark.
    #[must_use]
    pub fn dark(&self, x: usize, y: usize) -> bool {
        x < self.side && self.dark.get(y * self.side + x).copied().unwrap_or(false)
    }

    /// Returns the code as a picture, so many pixels a module, with its quiet zone.
    #[must_use]
    pub fn bitmap(&self, pixels: usize) -> Gray {
        let pixels = pixels.max(1);
        let side = (self.side + 2 * QUIET) * pixels;
        Gray::from_fn(side, side, |x, y| {
            let module = |at: usize| (at / pixels).checked_sub(QUIET);
            let dark = module(x).zip(module(y)).is_some_and(|(x, y)| self.dark(x, y));
            if dark { 0 } else { 255 }
        })
    }

    /// Returns the dark modules as the outline of an SVG path, one unit a module, quiet zone included.
    #[must_use]
    pub fn svg_path(&self) -> String {
        let mut path = String::new();
        for y in 0..self.side {
            for x in (0..self.side).filter(|x| self.dark(*x, y)) {
                path.push_str(&format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET));
            }
        }
        path
    }
}
