//! JCGM 101: the distributions of all errors propagated by drawing them, for one visit.
//!
//! Where a visit has several ways to the shift, the measurement function is their mean with the weights of least
//! squares, worked out from drawn errors as well; a mean of few repeats counts there with its standard deviation,
//! since its own distribution may have none.

use crate::chance::{Chance, Shape};
use crate::visit::{Drawn, Visit};

/// How many draws make an interval. The ends of 95 % then scatter by about 5 % of its width, and the median over a
/// thousand visits by far less.
const TRIALS: usize = 1000;

/// The probabilistically symmetric 95 % interval of the shift, in pascals.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Interval {
    pub(crate) low: f64,
    pub(crate) high: f64,
}

pub(crate) fn interval(visit: &Visit, seed: u64) -> Interval {
    let mut chance = Chance::seeded(seed ^ 0x7AC1_E5D0);
    let weights = weights(visit, &mut chance);
    let mut shifts: Vec<f64> = (0..TRIALS)
        .map(|_| {
            let ways = draw(visit, &mut chance, false);
            ways.iter().zip(&weights).map(|(way, weight)| way * weight).sum()
        })
        .collect();
    shifts.sort_by(f64::total_cmp);
    let tail = TRIALS / 40;
    Interval { low: shifts[tail], high: shifts[TRIALS - 1 - tail] }
}

/// Draws every error and returns what each way comes out as.
fn draw(visit: &Visit, chance: &mut Chance, as_normal: bool) -> Vec<f64> {
    let one = |shape: &Shape| match shape {
        Shape::Student(standard, _) if as_normal => Shape::Normal(*standard),
        shape => *shape,
    };
    let errors: Vec<f64> = visit.shapes.iter().map(|shape| chance.error(one(shape))).collect();
    let drawn = Drawn { errors: &errors, gradient: visit.gradient_of(&errors) };
    visit.ways.iter().map(|way| way(&drawn)).collect()
}

/// Weights of least squares from the covariance of the ways, which 500 draws show well enough: a weight that is a
/// little off widens the interval only in second order.
fn weights(visit: &Visit, chance: &mut Chance) -> Vec<f64> {
    let many = visit.ways.len();
    if many == 1 {
        return vec![1.0];
    }
    let drawn: Vec<Vec<f64>> = (0..500).map(|_| draw(visit, chance, true)).collect();
    let mean: Vec<f64> = (0..many).map(|way| drawn.iter().map(|one| one[way]).sum::<f64>() / 500.0).collect();
    let covariance = |a: usize, b: usize| -> f64 {
        drawn.iter().map(|one| (one[a] - mean[a]) * (one[b] - mean[b])).sum::<f64>() / 499.0
    };
    let rows = (0..many).map(|a| (0..many).map(|b| covariance(a, b)).chain([1.0]).collect()).collect();
    let solved = solve(rows);
    let sum: f64 = solved.iter().sum();
    solved.iter().map(|weight| weight / sum).collect()
}

/// Solves linear equations, right-hand side last, by elimination with the largest pivot.
fn solve(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let many = rows.len();
    for at in 0..many {
        let pivot = (at..many).max_by(|a, b| rows[*a][at].abs().total_cmp(&rows[*b][at].abs())).unwrap();
        rows.swap(at, pivot);
        let lead = rows[at].clone();
        for row in rows.iter_mut().skip(at + 1) {
            let part = row[at] / lead[at];
            row.iter_mut().zip(&lead).for_each(|(one, of)| *one -= part * of);
        }
    }
    let mut solved = vec![0.0; many];
    for at in (0..many).rev() {
        let known: f64 = (at + 1..many).map(|other| rows[at][other] * solved[other]).sum();
        solved[at] = (rows[at][many] - known) / rows[at][at];
    }
    solved
}

#[test]
fn equations_are_solved() {
    // 2x + y = 5, x + 3y = 10: x = 1, y = 3.
    let solved = solve(vec![vec![2.0, 1.0, 5.0], vec![1.0, 3.0, 10.0]]);
    assert!((solved[0] - 1.0).abs() < 1e-12 && (solved[1] - 3.0).abs() < 1e-12, "{solved:?}");
}
