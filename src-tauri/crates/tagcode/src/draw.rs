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
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DrawError {
    /// Nothing to say.
    #[error("There is no text to put into the code. Give the tag's link.")]
    Empty,
    /// Too long for any code.
    #[error("The text is too long for a code. Use a shorter link.")]
    TooLong,
    /// A tag of dots alone, which no link can end with.
    #[error(
        "The tag \u{201c}{tag}\u{201d} has no letter or digit, and a link would lead elsewhere. Give the instrument another tag."
    )]
    Dots {
        /// The tag.
        tag: String,
    },
    /// Not a host's name.
    #[error(
        "\u{201c}{host}\u{201d} is not the name of a host. Give the utility's own, such as id.utility.example, without scheme or path."
    )]
    Host {
        /// What was given, safe to show.
        host: String,
    },
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

    /// Returns the smallest code that holds a text at least at a strength, as strong as that size allows: more
    /// strength at the same size costs nothing.
    ///
    /// # Errors
    ///
    /// [`DrawError`] as [`Code::of`].
    pub fn strongest(text: &str, least: Strength) -> Result<Code, DrawError> {
        let mut best = Code::of(text, least)?;
        for strength in [Strength::Medium, Strength::Quarter, Strength::High] {
            match Code::of(text, strength) {
                Ok(code) if strength > least && code.side == best.side => best = code,
                _ => {}
            }
        }
        Ok(best)
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

    /// The dark modules as an SVG path, one unit a module, beyond the quiet zone.
    fn path(&self) -> String {
        let mut path = String::new();
        for y in 0..self.side {
            for x in (0..self.side).filter(|x| self.dark(*x, y)) {
                path.push_str(&format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET));
            }
        }
        path
    }

    /// Returns the code alone as SVG with its quiet zone, one module so many millimetres wide.
    #[must_use]
    pub fn svg(&self, module_mm: f64) -> String {
        let side = self.side + 2 * QUIET;
        #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
        let mm = side as f64 * module_mm;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{mm}mm\" height=\"{mm}mm\" viewBox=\"0 0 {side} {side}\">\
             <rect width=\"{side}\" height=\"{side}\" fill=\"#fff\"/><path d=\"{path}\"/></svg>",
            path = self.path(),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::{Code, DrawError, QUIET, Strength};

    #[test]
    fn strength_is_raised_as_far_as_the_size_allows() {
        let text = "https://id.marrowby.example/i/LT-2041";
        let least = Code::of(text, Strength::Low).unwrap();
        let best = Code::strongest(text, Strength::Low).unwrap();
        assert_eq!(best.side(), least.side());
        assert_ne!(best, least);
    }

    #[test]
    fn nothing_and_too_much_are_refused() {
        assert_eq!(Code::of("", Strength::Low), Err(DrawError::Empty));
        assert_eq!(Code::of(&"x".repeat(3000), Strength::Low), Err(DrawError::TooLong));
    }

    #[test]
    fn the_quiet_zone_is_white_on_all_sides() {
        let picture = Code::of("A", Strength::High).unwrap().bitmap(1);
        let side = picture.width();
        for at in 0..side {
            for edge in (0..QUIET).chain(side - QUIET..side) {
                assert_eq!(
                    (picture.pixels()[at * side + edge], picture.pixels()[edge * side + at]),
                    (255, 255)
                );
            }
        }
    }
}
