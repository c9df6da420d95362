//! A picture in shades of gray.

/// A picture, a byte a pixel, row by row from the top; 0 is black.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gray {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

impl Gray {
    /// Returns a picture of these pixels, or `None` where their number is not width times height.
    #[must_use]
    pub fn new(width: usize, height: usize, pixels: Vec<u8>) -> Option<Gray> {
        (width.checked_mul(height)? == pixels.len()).then_some(Gray { width, height, pixels })
    }

    /// Returns a picture made pixel by pixel.
    #[must_use]
    pub fn from_fn(width: usize, height: usize, pixel: impl Fn(usize, usize) -> u8) -> Gray {
        let mut pixels = Vec::with_capacity(width.saturating_mul(height));
        for y in 0..height {
            pixels.extend((0..width).map(|x| pixel(x, y)));
        }
        Gray { width, height, pixels }
    }

    /// Returns its width in pixels.
    #[must_use]
    pub fn width(&self) -> usize {
        self.width
    }

    /// Returns its height in pixels.
    #[must_use]
    pub fn height(&self) -> usize {
        self.height
    }

    /// Returns its longer side.
    #[must_use]
    pub fn long_side(&self) -> usize {
        self.width.max(self.height)
    }

    /// Returns all pixels.
    #[must_use]
    pub fn pixels(&self) -> &[u8] {
        &self.pixels
    }

    /// Returns one pixel; outside the picture, the nearest one inside, and white for an empty picture.
    #[must_use]
    pub fn at(&self, x: isize, y: isize) -> u8 {
        let within = |at: isize, size: usize| {
            at.clamp(0, isize::try_from(size).unwrap_or(isize::MAX).saturating_sub(1).max(0))
        };
        let (x, y) = (within(x, self.width), within(y, self.height));
        let place = y.unsigned_abs() * self.width + x.unsigned_abs();
        self.pixels.get(place).copied().unwrap_or(255)
    }

    /// Goes through the rows.
    pub(crate) fn rows(&self) -> impl Iterator<Item = &[u8]> {
        self.pixels.chunks_exact(self.width.max(1))
    }

    /// Returns the picture with every pixel changed alike.
    #[must_use]
    pub(crate) fn map(&self, change: impl Fn(u8) -> u8) -> Gray {
        Gray { pixels: self.pixels.iter().map(|pixel| change(*pixel)).collect(), ..*self }
    }

    pub(crate) fn with(&self, pixels: Vec<u8>) -> Gray {
        Gray { pixels, ..*self }
    }
}
