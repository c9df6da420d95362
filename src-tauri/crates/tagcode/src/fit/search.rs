//! Moving a grid until it fits.

use super::grid::{Grid, NUMBERS, TO_MIDDLE};
use super::marks::{self, Mark};
use super::squares::{Square, Triple};
use crate::text::{LEAST_SIDE, MOST_SIDE};
use crate::{Gray, Point};

/// A grid and how well it fits: 1 where every mark has its shade at full contrast.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    pub(super) grid: Grid,
    pub(super) score: f32,
}

/// Below this nothing was ever read.
const LEAST_SCORE: f32 = 0.3;
/// How many sizes are fitted to the end.
const MOST_SIZES: usize = 3;
/// The finest move, as a part of a module.
const FINEST: f32 = 1.0 / 16.0;
/// The most rounds of moves; a bound on the work.
const MOST_ROUNDS: usize = 40;

/// Returns the grids that fit a triple of corner squares, best first.
pub(super) fn fits(level: &Gray, triple: &Triple) -> Vec<Fit> {
    let mut begun: Vec<(Fit, Vec<Mark>)> =
        sizes(triple).into_iter().filter_map(|side| begin(level, triple, side)).collect();
    begun.sort_by(|a, b| b.0.score.total_cmp(&a.0.score));
    let mut fits = Vec::new();
    for (fit, marks) in begun.iter().take(MOST_SIZES) {
        let flat = settle(level, marks, *fit, 0..NUMBERS - 4);
        let bent = settle(level, marks, flat, 0..NUMBERS);
        fits.extend([flat, bent]);
    }
    fits.retain(|fit| fit.score >= LEAST_SCORE);
    fits.sort_by(|a, b| b.score.total_cmp(&a.score));
    fits
}

/// Modules a side that the squares' distance and size allow: an oblique label looks shorter than it is.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // Small numbers.
fn sizes(triple: &Triple) -> Vec<usize> {
    let [upper, right, lower] = triple;
    let modules = |a: &Square, b: &Square| {
        a.middle.apart(b.middle) * 14.0 / (a.size + b.size).max(1.0) + 2.0 * TO_MIDDLE
    };
    let (across, down) = (modules(upper, right), modules(upper, lower));
    let (least, most) = (across.min(down) * 0.85 - 2.0, across.max(down) * 1.2 + 2.0);
    let all = (LEAST_SIDE..=MOST_SIDE).step_by(4);
    all.filter(|side| (least..=most).contains(&(*side as f32))).collect()
}

/// The best flat grid of a size, as far as moving the fourth point in coarse steps tells.
fn begin(level: &Gray, triple: &Triple, side: usize) -> Option<(Fit, Vec<Mark>)> {
    const STEPS: i32 = 6;
    let marks = marks::of(side);
    let middles = triple.map(|square| square.middle);
    let [upper, right, lower] = middles;
    // A step along each side is a twenty-fourth of it: the fourth point may lie a quarter beyond or short.
    let step = |to: Point| ((to.x - upper.x) / 24.0, (to.y - upper.y) / 24.0);
    let ((ax, ay), (bx, by)) = (step(right), step(lower));
    let mut best: Option<Fit> = None;
    for across in -STEPS..=STEPS {
        for down in -STEPS..=STEPS {
            #[allow(clippy::cast_precision_loss)] // A dozen steps.
            let (i, j) = (across as f32, down as f32);
            let grid = Grid::flat(side, middles, (ax * i + bx * j, ay * i + by * j));
            let score = score(level, &marks, &grid);
            if best.is_none_or(|best| score > best.score) {
                best = Some(Fit { grid, score });
            }
        }
    }
    best.map(|fit| (fit, marks))
}

/// Moves one number after the other, up and down, as long as it helps, in ever finer steps.
fn settle(level: &Gray, marks: &[Mark], mut best: Fit, numbers: core::ops::Range<usize>) -> Fit {
    let module = module(&best.grid);
    let mut step = module;
    for _ in 0..MOST_ROUNDS {
        let before = best.score;
        for number in numbers.clone() {
            for by in [step, -step] {
                let grid = best.grid.moved(number, by);
                let score = score(level, marks, &grid);
                if score > best.score {
                    best = Fit { grid, score };
                    break;
                }
            }
        }
        if best.score - before < 1e-4 {
            step /= 2.0;
            if step < module * FINEST {
                break;
            }
        }
    }
    best
}

/// How many pixels wide a module is near the upper left.
fn module(grid: &Grid) -> f32 {
    let ((ax, ay), (bx, by)) = (grid.at(TO_MIDDLE, TO_MIDDLE), grid.at(TO_MIDDLE + 1.0, TO_MIDDLE));
    libm::hypotf(bx - ax, by - ay).max(0.5)
}

/// How far the marks' places have the shade that they should.
#[allow(clippy::cast_precision_loss)] // A few thousand marks.
fn score(level: &Gray, marks: &[Mark], grid: &Grid) -> f32 {
    let agreed = marks.iter().map(|mark| {
        let (x, y) = grid.at(mark.x, mark.y);
        (level.between(x, y) - 128.0) * mark.sign
    });
    // Levelled light puts one spread at 64 shades.
    agreed.map(|agreed| agreed.clamp(-64.0, 64.0)).sum::<f32>() / (64.0 * marks.len().max(1) as f32)
}
