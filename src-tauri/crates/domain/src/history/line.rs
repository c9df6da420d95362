//! A straight line with steps through numbers of stated uncertainty.

use nalgebra::{DMatrix, DVector};

/// Below this part of the largest, a diagonal element of the triangle counts as nothing.
const NOTHING: f64 = 1e-9;

/// One number to fit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    /// In years from the first.
    pub(super) time: f64,
    pub(super) value: f64,
    /// Standard uncertainty, where one is stated.
    pub(super) standard: Option<f64>,
}

/// A fitted line: a value at time zero, a slope, and what each step adds from its row on.
pub(super) struct Line {
    pub(super) coefficients: DVector<f64>,
    /// Variances of the coefficients by the stated uncertainties; by the residuals where none is stated.
    variance: DVector<f64>,
    /// By how much the residuals' variance exceeds what was stated, as a part of it; never below zero.
    excess: f64,
    /// The residuals' variance over what was stated; none where no residual is free.
    ratio: Option<f64>,
    /// Residuals that are free.
    pub(super) free: usize,
    pub(super) stated: bool,
    /// Standard deviation of the residuals, unweighted; none where none is free.
    pub(super) scatter: Option<f64>,
}

pub(super) const START: usize = 0;
pub(super) const SLOPE: usize = 1;
/// The first step's place among the coefficients.
pub(super) const STEPS: usize = 2;

impl Line {
    /// Fits a line that steps up or down before each of the rows named.
    pub(super) fn fit(rows: &[Row], steps: &[usize]) -> Option<Line> {
        let count = STEPS + steps.len();
        let stated = rows.iter().all(|row| row.standard.is_some());
        let weight = |row: &Row| row.standard.filter(|_| stated).map_or(1.0, |standard| 1.0 / standard);
        let (matrix, right) = equations(rows, steps, count, weight);
        let free = rows.len().checked_sub(count)?;
        let qr = matrix.clone().qr();
        let triangle = qr.r();
        let largest = triangle.diagonal().amax();
        if triangle.diagonal().iter().any(|one| one.abs() <= NOTHING * largest) {
            return None;
        }
        let coefficients = triangle.solve_upper_triangular(&(qr.q().transpose() * &right))?;
        let inverse = triangle.solve_upper_triangular(&DMatrix::identity(count, count))?;
        let left = &right - &matrix * &coefficients;
        #[allow(clippy::cast_precision_loss)] // Visits to one instrument.
        let per_free = (free > 0).then(|| left.norm_squared() / free as f64);
        let by_inputs = DVector::from_iterator(count, inverse.row_iter().map(|row| row.norm_squared()));
        let variance = if stated { by_inputs } else { by_inputs * per_free? };
        let excess = if stated { per_free.map_or(0.0, |ratio| (ratio - 1.0).max(0.0)) } else { 0.0 };
        Some(Line {
            scatter: scatter(rows, &left, free, weight),
            coefficients,
            variance,
            excess,
            ratio: per_free,
            free,
            stated,
        })
    }

    /// Returns a coefficient's standard uncertainty with its effective degrees of freedom
    /// (Welch-Satterthwaite over the stated part and the unexplained one).
    pub(super) fn standard(&self, at: usize) -> (f64, f64) {
        let variance = self.variance.get(at).copied().unwrap_or(f64::NAN) * (1.0 + self.excess);
        #[allow(clippy::cast_precision_loss)]
        let free = self.free as f64;
        let freedom = match (self.stated, self.excess > 0.0) {
            (true, false) => f64::INFINITY,
            (true, true) => {
                let share = self.excess / (1.0 + self.excess);
                free / (share * share)
            }
            (false, _) => free,
        };
        (libm::sqrt(variance), freedom)
    }

    /// Returns a coefficient's standard uncertainty by the scatter of the visits alone, with its degrees of freedom.
    pub(super) fn standard_by_scatter(&self, at: usize) -> Option<(f64, f64)> {
        let ratio = if self.stated { self.ratio? } else { 1.0 };
        #[allow(clippy::cast_precision_loss)]
        Some((libm::sqrt(self.variance.get(at)? * ratio), self.free as f64))
    }

    pub(super) fn coefficient(&self, at: usize) -> f64 {
        self.coefficients.get(at).copied().unwrap_or(f64::NAN)
    }
}

/// Returns the equations, each divided by its standard uncertainty.
fn equations(
    rows: &[Row],
    steps: &[usize],
    count: usize,
    weight: impl Fn(&Row) -> f64,
) -> (DMatrix<f64>, DVector<f64>) {
    let mut matrix = DMatrix::zeros(rows.len(), count);
    for ((place, row), mut line) in rows.iter().enumerate().zip(matrix.row_iter_mut()) {
        let after = |step: &usize| if place >= *step { 1.0 } else { 0.0 };
        let parts = [1.0, row.time].into_iter().chain(steps.iter().map(after));
        line.iter_mut().zip(parts).for_each(|(cell, part)| *cell = part * weight(row));
    }
    (matrix, DVector::from_iterator(rows.len(), rows.iter().map(|row| row.value * weight(row))))
}

fn scatter(rows: &[Row], left: &DVector<f64>, free: usize, weight: impl Fn(&Row) -> f64) -> Option<f64> {
    let squares = rows.iter().zip(left.iter()).map(|(row, left)| left / weight(row));
    let sum: f64 = squares.map(|left| left * left).sum();
    #[allow(clippy::cast_precision_loss)]
    (free > 0).then(|| libm::sqrt(sum / free as f64))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::{Line, Row, SLOPE, START};

    /// 0, 2, 1 and 3 in four years: the line is 0.3 + 0.8 a year, and leaves -0.3, 0.9, -0.9 and 0.3, squares 1.8, two of them
    /// free. The years' squares about their mean add up to 5.
    fn line(standard: Option<f64>) -> Line {
        let rows = [(0.0, 0.0), (1.0, 2.0), (2.0, 1.0), (3.0, 3.0)];
        Line::fit(&rows.map(|(time, value)| Row { time, value, standard }), &[]).unwrap()
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-9, "{found} against {expected}");
    }

    #[test]
    fn the_line_is_the_one_of_least_squares() {
        let line = line(Some(1.0));
        near(line.coefficient(START), 0.3);
        near(line.coefficient(SLOPE), 0.8);
        near(line.scatter.unwrap(), 0.9_f64.sqrt());
    }

    /// By the scatter alone the slope is known to the root of 1.8 / 2 / 5, whatever was stated.
    #[rstest]
    #[case::nothing(None)]
    #[case::enough(Some(1.0))]
    #[case::too_little(Some(0.5))]
    fn what_was_stated_leaves_the_scatter_as_it_is(#[case] standard: Option<f64>) {
        let (found, freedom) = line(standard).standard_by_scatter(SLOPE).unwrap();
        near(found, 0.18_f64.sqrt());
        near(freedom, 2.0);
    }

    /// Enough stated: 1 / 5 and no doubt of it. Half of it stated: the residuals are 3.6 times what that allows, 2.6 of
    /// the 3.6 parts are scatter with two degrees of freedom, the rest is stated: 2 / (2.6 / 3.6)^2.
    #[rstest]
    #[case::enough(1.0, 0.2, f64::INFINITY)]
    #[case::too_little(0.5, 0.18, 2.0 * 3.6 * 3.6 / (2.6 * 2.6))]
    fn what_was_stated_is_widened_where_the_scatter_is_larger(
        #[case] stated: f64,
        #[case] variance: f64,
        #[case] freedom: f64,
    ) {
        let (found, degrees) = line(Some(stated)).standard(SLOPE);
        near(found, variance.sqrt());
        assert!(degrees.total_cmp(&freedom).is_eq() || (degrees - freedom).abs() < 1e-9, "{degrees}");
    }
}
