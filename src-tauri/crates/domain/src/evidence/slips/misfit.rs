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

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
    use uom::si::length::meter;
    use uom::si::mass_density::kilogram_per_cubic_meter;
    use uom::si::pressure::pascal;

    use super::super::super::{Column, Spread};
    use super::*;

    fn pressure(case: &mut Case, value: f64, spread: Spread<f64>) -> InputId {
        case.input(Input::pressure(
            "number",
            Pressure::new::<pascal>(value),
            spread.map(Pressure::new::<pascal>),
        ))
    }

    /// Numbers that all say the same thing.
    fn alike(numbers: &[(f64, Spread<f64>)]) -> Case {
        let mut case = Case::new();
        for (value, spread) in numbers {
            let number = pressure(&mut case, *value, *spread);
            case.allow_zero(&[number]);
        }
        case
    }

    fn near(found: f64, expected: f64, within: f64) {
        assert!((found - expected).abs() <= within, "{found} where {expected} was expected");
    }

    /// Weighed by the squares of what they are known to, numbers lie so far from their mean in squares; with two comparisons
    /// chance leaves so much with exp(-half of it).
    #[rstest]
    // About a mean of 1: 1 + 1 + 4.
    #[case::alike(&[(0.0, 1.0), (0.0, 1.0), (3.0, 1.0)], 6.0, 0.049_787)]
    // Weights 1, 1 and a quarter, a mean of 1.5 / 2.25 = 2/3: 4/9 + 4/9 + 1/4 x 256/9.
    #[case::one_less_sure(&[(0.0, 1.0), (0.0, 1.0), (6.0, 2.0)], 8.0, 0.018_316)]
    // 3 against 4 is five: two of them; chance leaves as much once in 22 times.
    #[case::two(&[(10.0, 3.0), (0.0, 4.0)], 4.0, 0.045_500)]
    fn numbers_are_as_far_apart_as_their_squares(
        #[case] numbers: &[(f64, f64)],
        #[case] squares: f64,
        #[case] chance: f64,
    ) {
        let stated: Vec<_> =
            numbers.iter().map(|(value, standard)| (*value, Spread::Standard(*standard))).collect();
        let misfit = Misfit::of(&alike(&stated)).unwrap();
        assert_eq!(misfit.apart.len(), numbers.len() - 1);
        near(misfit.squares(&misfit.apart), squares, 1e-5);
        near(misfit.chance(&misfit.apart), chance, 1e-6);
        // All alike moved, nothing is further apart; the last one moved to the others, nothing is apart.
        let by = |at: usize, by: f64| misfit.moved(InputId(at), by);
        let together = (0..numbers.len()).fold(misfit.apart.clone(), |sum, at| sum + by(at, 5.0));
        near(misfit.squares(&together), squares, 1e-5);
        let last = numbers.len() - 1;
        let mended = &misfit.apart + by(last, numbers[0].0 - numbers[last].0);
        near(mended.norm(), 0.0, 1e-6);
    }

    #[test]
    fn a_number_alone_is_compared_with_nothing() {
        assert!(Misfit::of(&alike(&[(10.0, Spread::Standard(1.0))])).is_none());
    }

    #[test]
    fn exact_numbers_are_compared_to_a_millipascal() {
        // Over the root of two, as a difference is.
        let misfit = Misfit::of(&alike(&[(3e-3, Spread::Exact), (1e-3, Spread::Exact)])).unwrap();
        near(misfit.squares(&misfit.apart), 2.0, 1e-6);
    }

    #[test]
    fn an_input_of_another_case_moves_nothing() {
        let misfit =
            Misfit::of(&alike(&[(10.0, Spread::Standard(3.0)), (0.0, Spread::Standard(4.0))])).unwrap();
        near(misfit.moved(InputId(1), 5.0).norm(), 1.0, 1e-6);
        near(misfit.moved(InputId(2), 5.0).norm(), 0.0, 0.0);
    }

    #[test]
    fn few_repeats_leave_more_to_chance() {
        // Of the variance of 25 the repeats have 9 with 3.888 degrees of freedom: 0.36^2 / 3.888 is a thirtieth. Two-sided,
        // t with 30 degrees of freedom passes 2.0423 once in twenty times (JCGM 100:2008, Table G.2, has 2.04).
        let repeats = Spread::Repeats { standard: 3.0, freedom: 3.888 };
        let misfit = Misfit::of(&alike(&[(5.0 * 2.0423, repeats), (0.0, Spread::Standard(4.0))])).unwrap();
        near(misfit.freedom[0], 30.0, 1e-4);
        near(misfit.chance(&misfit.apart), 0.05, 5e-5);
        let stated = alike(&[(1.0, Spread::Standard(3.0)), (0.0, Spread::Standard(4.0))]);
        assert!(Misfit::of(&stated).unwrap().freedom[0].is_infinite());
    }

    /// A level of 10 m of 1000 kg/m3, known to 1 kg/m3, under 10 m/s2, and the pressure under it: 100 Pa of density. Where the
    /// two disagree, the lever is taken half way between, some 5 mm higher or 10 mm lower.
    #[rstest]
    #[case::one_deviation(100.0, 0.317_311)]
    #[case::two(-200.0, 0.045_500)]
    fn a_density_counts_over_the_level_that_stands_on_it(#[case] off: f64, #[case] chance: f64) {
        let mut case = Case::new();
        let water = MassDensity::new::<kilogram_per_cubic_meter>(1000.0);
        let one = Spread::Standard(MassDensity::new::<kilogram_per_cubic_meter>(1.0));
        let water = case.input(Input::density("water", water, one));
        let g = Acceleration::new::<meter_per_second_squared>(10.0);
        let g = case.input(Input::acceleration("gravity", g, Spread::Exact));
        let height = case.input(Input::length("level", Length::new::<meter>(10.0), Spread::Exact));
        let shown = pressure(&mut case, 100_000.0 + off, Spread::Exact);
        let (by, level) = (case.reference("both"), case.level());
        case.level_is(by, level, &[height], &[]);
        case.pressed(by, level, Column::new(water, g), &[shown], &[]);
        let misfit = Misfit::of(&case).unwrap();
        near(misfit.chance(&misfit.apart), chance, 3e-4);
        // A metre of level is a hundred deviations; so are 10 000 Pa the other way.
        let both = misfit.moved(height, 1.0) + misfit.moved(shown, 10_000.0);
        near(both.norm(), 0.0, 1e-5);
        near(misfit.moved(height, 1.0).norm(), 100.0, 0.15);
    }
}
