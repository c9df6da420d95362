//! Lengths on paper, and the printer's dots.

/// Millimetres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mm(pub f64);

/// Dots an inch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dpi(u32);

/// Millimetres an inch, exactly.
const INCH: f64 = 25.4;

impl Dpi {
    /// The coarsest printer a label is made for: at less, a module of a few dots would not fit a usual label.
    pub const LEAST: u32 = 150;
    /// The finest.
    pub const MOST: u32 = 2400;

    /// Returns so many dots an inch, or `None` for fewer or more than any printer for labels has.
    #[must_use]
    pub fn of(dots: u32) -> Option<Dpi> {
        (Dpi::LEAST..=Dpi::MOST).contains(&dots).then_some(Dpi(dots))
    }

    /// Returns how many dots an inch has.
    #[must_use]
    pub fn dots(self) -> u32 {
        self.0
    }

    /// Returns how long so many dots are.
    #[must_use]
    pub fn length(self, dots: usize) -> Mm {
        #[allow(clippy::cast_precision_loss)] // A page has fewer than 40,000 dots a side.
        Mm(dots as f64 * INCH / f64::from(self.0))
    }

    /// Returns how many whole dots fit a length.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Held at nothing, and pages are small.
    pub fn within(self, length: Mm) -> usize {
        // A length that is a whole number of dots must not lose one to the last digit.
        libm::floor(length.0.max(0.0) * f64::from(self.0) / INCH + 1e-6) as usize
    }

    /// Returns the dot nearest to a place.
    #[must_use]
    pub fn nearest(self, place: Mm) -> usize {
        self.within(Mm(place.0 + INCH / f64::from(self.0) / 2.0))
    }
}
