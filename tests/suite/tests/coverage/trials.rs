//! JCGM 101: the distributions of all errors propagated by drawing them, for one visit.
//!
//! Where a visit has several ways to the shift, the measurement function is their mean with the weights of least
//! squares, worked out from drawn errors as well; a mean of few repeats counts there with its standard deviation,
//! since its own distribution may have none.

use crate::draws::Draws;
use crate::visit::{Drawn, Visit};

/// How many draws the weights of least squares take: a weight that is a little off widens the interval only in second
/// order.
const WEIGHING: usize = 250;

/// The probabilistically symmetric 95 % interval of the shift, in pascals.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Interval {
    pub(crate) low: f64,
    pub(crate) high: f64,
}

pub(crate) fn interval(visit: &Visit, draws: &mut Draws) -> Interval {
    let weights = weights(visit, draws);
    let mut shifts = Vec::with_capacity(Draws::MANY);
    each(visit, draws, Draws::MANY, false, |ways| {
        shifts.push(ways.iter().zip(&weights).map(|(way, weight)| way * weight).sum());
    });
    let tail = Draws::MANY / 40;
    let mut end = |at: usize| *shifts.select_nth_unstable_by(at, f64::total_cmp).1;
    Interval { low: end(tail), high: end(Draws::MANY - 1 - tail) }
}

/// Draws every error so many times, and gives what each way comes out as.
fn each(visit: &Visit, draws: &mut Draws, many: usize, as_normal: bool, mut take: impl FnMut(&[f64])) {
    let columns = draws.columns(&visit.shapes, as_normal);
    let mut errors = vec![0.0; columns.len()];
    let mut ways = vec![0.0; visit.ways.len()];
    for at in 0..many {
        errors.iter_mut().zip(&columns).for_each(|(error, (column, size))| *error = column[at] * size);
        let drawn = Drawn { errors: &errors, gradient: visit.gradient_of(&errors) };
        ways.iter_mut().zip(&visit.ways).for_each(|(one, way)| *one = way(&drawn));
        take(&ways);
    }
}

/// Weights of least squares from the covariance of the ways.
fn weights(visit: &Visit, draws: &mut Draws) -> Vec<f64> {
    let many = visit.ways.len();
    if many == 1 {
        return vec![1.0];
    }
    let mut drawn: Vec<Vec<f64>> = Vec::with_capacity(WEIGHING);
    each(visit, draws, WEIGHING, true, |ways| drawn.push(ways.to_vec()));
    let number = f64::from(u32::try_from(WEIGHING).unwrap());
    let mean: Vec<f64> =
        (0..many).map(|way| drawn.iter().map(|one| one[way]).sum::<f64>() / number).collect();
    let covariance = |a: usize, b: usize| -> f64 {
        drawn.iter().map(|one| (one[a] - mean[a]) * (one[b] - mean[b])).sum::<f64>() / (number - 1.0)
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
