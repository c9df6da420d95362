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

    /// Returns the shade between pixels, as if it went evenly from each to the next; a pixel's own place is its middle.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Small numbers.
    pub(crate) fn between(&self, x: f32, y: f32) -> f32 {
        let within = |at: f32, size: usize| (at - 0.5).clamp(0.0, size.saturating_sub(1) as f32);
        let (x, y) = (within(x, self.width), within(y, self.height));
        let (left, top) = (x as usize, y as usize);
        let (dx, dy) = (x - left as f32, y - top as f32);
        let row = |y: usize| {
            let from = y.min(self.height.saturating_sub(1)) * self.width + left;
            let a = self.pixels.get(from).copied().map_or(255.0, f32::from);
            let b = if left + 1 < self.width {
                self.pixels.get(from + 1).copied().map_or(a, f32::from)
            } else {
                a
            };
            a + (b - a) * dx
        };
        let upper = row(top);
        upper + (row(top + 1) - upper) * dy
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
