//! How far the numbers of a case are from fitting each other.

use nalgebra::{DMatrix, DVector};

use super::super::equation::{Equation, Point};
use super::super::estimate::fourth;
use super::super::fit::{EXACT, Jacobian, comparisons, row_space};
use super::super::student::{chi_square_beyond, normal_score};
use super::super::{Case, Input, InputId};

/// Every comparison a case makes, scaled so that honest numbers leave standard normal misfits in each.
///
/// Everything is taken at the numbers as given, not as fitted: a fit spreads a gross slip over all of them, and then
/// reckons with a density that nobody believes.
pub(super) struct Misfit {
    /// What is left of each comparison.
    pub(super) apart: DVector<f64>,
    /// What one unit of each input moves it by.
    by_input: DMatrix<f64>,
    /// Degrees of freedom of each comparison's scale.
    freedom: Vec<f64>,
}

impl Misfit {
    /// Compares the numbers of a case; none where nothing compares with anything.
    pub(super) fn of(case: &Case) -> Option<Misfit> {
        let equations: Vec<&Equation> = case.those(|_| true);
        let given: Vec<f64> = case.inputs.iter().map(|input| input.value).collect();
        let all: Vec<usize> = (0..given.len()).collect();
        let sizes = DVector::from_iterator(case.unknowns.len(), case.unknowns.iter().map(|one| one.size()));
        let at_nothing = vec![0.0; case.unknowns.len()];
        let start = Jacobian::of(&equations, &all, &sizes, &Point { unknowns: &at_nothing, inputs: &given });
        let checks = comparisons(&start.a, &row_space(&start.a));
        if checks.ncols() == 0 {
            return None;
        }
        // With the inputs given the equations are linear in the unknowns: one solution is the whole of it.
        let solved = start.a.clone().svd(true, true).solve(&-&start.f, 1e-12).ok()?;
        let unknowns: Vec<f64> = solved.iter().zip(sizes.iter()).map(|(one, size)| one * size).collect();
        let there = Jacobian::of(&equations, &all, &sizes, &Point { unknowns: &unknowns, inputs: &given });
        let whitener = whitener(&checks, &there.d, case)?;
        let by_input = &whitener * &there.d;
        let freedom = by_input.row_iter().map(|row| freedom(case, row.iter().copied())).collect();
        Some(Misfit { apart: &whitener * &start.f, by_input, freedom })
    }

    /// Returns what moving an input by so much does to every comparison.
    pub(super) fn moved(&self, input: InputId, by: f64) -> DVector<f64> {
        let nothing = || DVector::zeros(self.apart.len());
        let there = input.0 < self.by_input.ncols();
        if there { self.by_input.column(input.0) * by } else { nothing() }
    }

    /// Returns the sum of squares of what is left, each with so few degrees of freedom taken for the normal number that
    /// is as rare.
    pub(super) fn squares(&self, left: &DVector<f64>) -> f64 {
        left.iter()
            .zip(&self.freedom)
            .map(|(one, freedom)| normal_score(*one, *freedom))
            .map(|score| score * score)
            .sum()
    }

    /// Returns how often honest numbers come to be this far apart.
    pub(super) fn chance(&self, left: &DVector<f64>) -> f64 {
        chi_square_beyond(self.squares(left), left.len())
    }
}

/// Takes equations to comparisons with unit variance.
fn whitener(checks: &DMatrix<f64>, d: &DMatrix<f64>, case: &Case) -> Option<DMatrix<f64>> {
    let mut spread = checks.tr_mul(d);
    for (mut column, input) in spread.column_iter_mut().zip(&case.inputs) {
        column *= input.standard_si();
    }
    let exact = DMatrix::from_diagonal_element(checks.ncols(), checks.ncols(), EXACT * EXACT);
    let eigen = (&spread * spread.transpose() + exact).symmetric_eigen();
    let scale = eigen.eigenvalues.map(|variance| 1.0 / libm::sqrt(variance));
    let sound = scale.iter().all(|one| one.is_finite());
    sound.then(|| DMatrix::from_diagonal(&scale) * eigen.eigenvectors.transpose() * checks.transpose())
}

/// Degrees of freedom of a comparison (Welch-Satterthwaite); its variance is one.
fn freedom(case: &Case, row: impl Iterator<Item = f64>) -> f64 {
    let part = |(slope, input): (f64, &Input)| fourth(slope * input.standard_si()) / input.spread.freedom();
    let sum: f64 = row.zip(&case.inputs).map(part).sum();
    if sum > 0.0 { 1.0 / sum } else { f64::INFINITY }
}
