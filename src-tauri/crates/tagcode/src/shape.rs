//! Places in a picture.

/// A place, in pixels from the top left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f32,
    /// Down.
    pub y: f32,
}

impl Point {
    /// Returns the middle of several places.
    #[must_use]
    pub(crate) fn middle(points: &[Point]) -> Point {
        #[allow(clippy::cast_precision_loss)] // A code has at most a dozen corners.
        let count = points.len().max(1) as f32;
        let sum = points.iter().fold((0.0, 0.0), |sum, point| (sum.0 + point.x, sum.1 + point.y));
        Point { x: sum.0 / count, y: sum.1 / count }
    }

    /// Returns how far two places lie apart.
    #[must_use]
    pub(crate) fn apart(self, other: Point) -> f32 {
        libm::hypotf(self.x - other.x, self.y - other.y)
    }
}
