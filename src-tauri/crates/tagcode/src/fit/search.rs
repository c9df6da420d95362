//! Moving a grid until it fits.

use super::grid::{FLAT, Grid, NUMBERS, TO_MIDDLE};
use super::marks::{self, Mark};
use crate::patience::Patience;
use crate::squares::{Square, Triple};
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

/// Returns the grids that fit a triple of corner squares, best first: as far as they were moved when the patience was
/// over.
pub(super) fn fits(level: &Gray, triple: &Triple, patience: &mut Patience<'_>) -> Vec<Fit> {
    let mut begun: Vec<Fit> = Vec::new();
    for side in sizes(triple) {
        if patience.is_over() {
            break;
        }
        begun.extend(begin(level, triple, side));
    }
    begun.sort_by(|a, b| b.score.total_cmp(&a.score));
    begun.truncate(MOST_SIZES);
    let mut fits: Vec<Fit> = begun
        .into_iter()
        .flat_map(|fit| {
            let marks = marks::of(fit.grid.side());
            let by_marks = |grid: &Grid| by_marks(level, &marks, grid);
            let flat = settle(fit, 0..FLAT, by_marks, patience);
            [flat, settle(flat, 0..NUMBERS, by_marks, patience)]
        })
        .collect();
    fits.retain(|fit| fit.score >= LEAST_SCORE);
    fits.sort_by(|a, b| b.score.total_cmp(&a.score));
    fits
}

/// Returns a fit moved on until the modules between the marks, too, are as dark or as light as they can be: far from
/// the marks, on a bent label, only they tell where the grid lies.
pub(super) fn crisp(level: &Gray, fit: &Fit, patience: &mut Patience<'_>) -> Fit {
    let marks = marks::of(fit.grid.side());
    let score = |grid: &Grid| by_marks(level, &marks, grid) + by_contrast(level, grid);
    let begun = Fit { score: score(&fit.grid), ..*fit };
    Fit { score: fit.score, ..settle(begun, 0..NUMBERS, score, patience) }
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
fn begin(level: &Gray, triple: &Triple, side: usize) -> Option<Fit> {
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
            let score = by_marks(level, &marks, &grid);
            if best.is_none_or(|best| score > best.score) {
                best = Some(Fit { grid, score });
            }
        }
    }
    best
}

/// Moves one number after the other, up and down, as long as it helps, in ever finer steps.
///
/// Between two questions to the patience each number is moved once at most.
fn settle(
    mut best: Fit,
    numbers: core::ops::Range<usize>,
    score: impl Fn(&Grid) -> f32,
    patience: &mut Patience<'_>,
) -> Fit {
    let module = module(&best.grid);
    let mut step = module;
    for _ in 0..MOST_ROUNDS {
        if patience.is_over() {
            break;
        }
        let before = best.score;
        for number in numbers.clone() {
            for by in [step, -step] {
                let grid = best.grid.moved(number, by);
                let score = score(&grid);
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

/// Levelled light puts one spread at so many shades.
const SPREAD: f32 = 64.0;

/// How far the marks' places have the shade that they should.
#[allow(clippy::cast_precision_loss)] // A few thousand marks.
fn by_marks(level: &Gray, marks: &[Mark], grid: &Grid) -> f32 {
    let agreed = marks.iter().map(|mark| {
        let (x, y) = grid.at(mark.x, mark.y);
        ((level.between(x, y) - 128.0) * mark.sign).clamp(-SPREAD, SPREAD)
    });
    agreed.sum::<f32>() / (SPREAD * marks.len().max(1) as f32)
}

/// How far all modules' middles are from the shade between dark and light.
#[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
fn by_contrast(level: &Gray, grid: &Grid) -> f32 {
    let side = grid.side();
    let row = |y: usize| {
        let far = (0..side).map(|x| {
            let (x, y) = grid.at(x as f32 + 0.5, y as f32 + 0.5);
            (level.between(x, y) - 128.0).abs().min(SPREAD)
        });
        far.sum::<f32>()
    };
    (0..side).map(row).sum::<f32>() / (SPREAD * (side * side) as f32)
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    fn begun() -> Fit {
        let middles = [(35.0, 35.0), (175.0, 35.0), (35.0, 175.0)].map(|(x, y)| Point { x, y });
        Fit { grid: Grid::flat(21, middles, (0.0, 0.0)), score: 0.0 }
    }

    #[test]
    fn each_round_of_moves_asks_first() {
        let (since, most, asked) = (Cell::new(0), Cell::new(0), Cell::new(0));
        let mut keep_going = || {
            most.set(most.get().max(since.take()));
            asked.set(asked.get() + 1);
            true
        };
        // The further down the fourth corner, the better: it moves until the rounds are over.
        let score = |grid: &Grid| {
            since.set(since.get() + 1);
            grid.at(17.5, 17.5).1
        };
        settle(begun(), 0..NUMBERS, score, &mut Patience::of(&mut keep_going));
        assert_eq!(asked.get(), MOST_ROUNDS);
        assert!((NUMBERS..=2 * NUMBERS).contains(&most.get().max(since.get())), "{}", most.get());
    }

    #[test]
    fn a_no_ends_the_moves() {
        let mut asked = 0;
        let mut keep_going = || {
            asked += 1;
            asked < 3
        };
        let moves = Cell::new(0);
        let score = |grid: &Grid| {
            moves.set(moves.get() + 1);
            grid.at(17.5, 17.5).1
        };
        settle(begun(), 0..FLAT, score, &mut Patience::of(&mut keep_going));
        assert_eq!(asked, 3);
        assert!(moves.get() <= 2 * 2 * FLAT, "{}", moves.get());
    }
}
