//! A grid of modules laid over a picture.

use crate::Point;

/// From a code's edge to the middle of a corner square, in modules.
pub(super) const TO_MIDDLE: f32 = 3.5;

/// How many numbers say where a grid lies: four points; how its sides bow; how that differs from side to side.
pub(super) const NUMBERS: usize = 16;
/// Numbers of a grid without a bow.
pub(super) const FLAT: usize = 8;

/// A grid: so many modules a side, through the middles of three corner squares and the place where a fourth would be,
/// its sides bowed as on a bent label.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grid {
    side: usize,
    numbers: [f32; NUMBERS],
    turn: Turn,
}

/// The plane's turn in space, from a square to four points (Heckbert, Fundamentals of Texture Mapping and Image
/// Warping, 1989, section 2.2.3, as remembered).
#[derive(Debug, Clone, Copy, Default)]
struct Turn {
    across: [f32; 3],
    down: [f32; 3],
    far: [f32; 2],
}

impl Turn {
    fn through(points: &[f32; NUMBERS]) -> Turn {
        let &[x0, y0, x1, y1, x2, y2, x3, y3, ..] = points;
        let (dx1, dy1, dx2, dy2) = (x1 - x2, y1 - y2, x3 - x2, y3 - y2);
        let (sx, sy) = (x0 - x1 + x2 - x3, y0 - y1 + y2 - y3);
        let area = dx1 * dy2 - dx2 * dy1;
        let area = if area.abs() < 1e-6 { 1e-6 } else { area };
        let (g, h) = ((sx * dy2 - dx2 * sy) / area, (dx1 * sy - sx * dy1) / area);
        Turn {
            across: [x1 - x0 + g * x1, x3 - x0 + h * x3, x0],
            down: [y1 - y0 + g * y1, y3 - y0 + h * y3, y0],
            far: [g, h],
        }
    }

    fn at(&self, u: f32, v: f32) -> (f32, f32) {
        let ([a, b, c], [d, e, f], [g, h]) = (self.across, self.down, self.far);
        let far = g * u + h * v + 1.0;
        ((a * u + b * v + c) / far, (d * u + e * v + f) / far)
    }
}

impl Grid {
    /// Returns a flat grid through the middles of the upper left, upper right and lower left square, the fourth so
    /// far from where a parallelogram has it.
    pub(super) fn flat(side: usize, middles: [Point; 3], fourth: (f32, f32)) -> Grid {
        let [upper, right, lower] = middles;
        let (x, y) = (right.x + lower.x - upper.x + fourth.0, right.y + lower.y - upper.y + fourth.1);
        let mut numbers = [0.0; NUMBERS];
        let points = [upper.x, upper.y, right.x, right.y, x, y, lower.x, lower.y];
        numbers.iter_mut().zip(points).for_each(|(number, point)| *number = point);
        Grid { side, numbers, turn: Turn::through(&numbers) }
    }

    /// Returns the grid with one of its numbers changed.
    pub(super) fn moved(&self, number: usize, by: f32) -> Grid {
        let mut numbers = self.numbers;
        if let Some(changed) = numbers.get_mut(number) {
            *changed += by;
        }
        Grid { numbers, turn: Turn::through(&numbers), ..*self }
    }

    /// Returns how many modules a side has.
    pub(super) fn side(&self) -> usize {
        self.side
    }

    /// Returns where a place in modules from the upper left corner lies in the picture.
    pub(super) fn at(&self, x: f32, y: f32) -> (f32, f32) {
        #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
        let between = self.side as f32 - 2.0 * TO_MIDDLE;
        let (u, v) = ((x - TO_MIDDLE) / between, (y - TO_MIDDLE) / between);
        let (px, py) = self.turn.at(u, v);
        let &[.., ax, ay, bx, by, cx, cy, dx, dy] = &self.numbers;
        let (bow_u, bow_v) = (4.0 * u * (1.0 - u), 4.0 * v * (1.0 - v));
        (
            px + (ax + cx * v) * bow_u + (bx + dx * u) * bow_v,
            py + (ay + cy * v) * bow_u + (by + dy * u) * bow_v,
        )
    }

    /// Returns the code's corners: upper left, upper right, lower right, lower left.
    pub(super) fn corners(&self) -> Vec<Point> {
        #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
        let far = self.side as f32;
        let corners = [(0.0, 0.0), (far, 0.0), (far, far), (0.0, far)];
        corners.into_iter().map(|(x, y)| self.at(x, y)).map(|(x, y)| Point { x, y }).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::Grid;
    use crate::Point;

    #[test]
    fn a_flat_grid_goes_through_its_middles_and_ends_at_its_corners() {
        let middles = [Point { x: 35.0, y: 35.0 }, Point { x: 175.0, y: 35.0 }, Point { x: 35.0, y: 175.0 }];
        let grid = Grid::flat(21, middles, (0.0, 0.0));
        for (x, y) in [(3.5, 3.5), (10.5, 10.5), (20.0, 1.0)] {
            let (px, py) = grid.at(x, y);
            assert!((px - x * 10.0).abs() < 1e-3 && (py - y * 10.0).abs() < 1e-3, "{px} {py}");
        }
        assert!(
            grid.corners()
                .iter()
                .zip([(0.0, 0.0), (210.0, 0.0), (210.0, 210.0), (0.0, 210.0)])
                .all(|(corner, (x, y))| (corner.x - x).abs() < 1e-3 && (corner.y - y).abs() < 1e-3)
        );
    }
}
