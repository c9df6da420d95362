//! What is inked, in whole dots.

/// A piece of ink, in dots from the upper left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A rectangle.
    Block {
        /// Its left edge.
        x: usize,
        /// Its upper edge.
        y: usize,
        /// Its width.
        width: usize,
        /// Its height.
        height: usize,
    },
    /// The frame's filled corner: its right angle at the lower right.
    Corner {
        /// Where the right angle is, from the left.
        x: usize,
        /// And from above.
        y: usize,
        /// How long its two sides are.
        side: usize,
    },
}

impl Shape {
    /// Returns it so far to the right and down.
    #[must_use]
    pub fn moved(self, right: usize, down: usize) -> Shape {
        match self {
            Shape::Block { x, y, width, height } => Shape::Block { x: x + right, y: y + down, width, height },
            Shape::Corner { x, y, side } => Shape::Corner { x: x + right, y: y + down, side },
        }
    }
}
