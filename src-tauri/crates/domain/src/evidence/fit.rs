//! Generalised least squares on equations in which both unknowns and inputs stand.
//!
//! With `f(theta, x) = 0`, `A = df/dtheta`, `D = df/dx` and the inputs' variances `U`, each step linearises at
//! the *fitted* unknowns and inputs and solves for the unknowns with the weight `(D U D')^-1`; the inputs move
//! to where the equations want them. Unknowns that the equations leave open get no component: which functions
//! of the unknowns are determined is asked of the row space of `A`.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

use super::equation::{Equation, Form, Point, Var};
use super::{Case, EvidenceError};

/// What an exact statement holds to, in pascals.
pub(super) const EXACT: f64 = 1e-3;
/// Below this a scaled singular value, or a part outside the row space, counts as nothing.
const NOTHING: f64 = 1e-8;
/// A step that moves nothing by this many pascals was the last.
const SETTLED: f64 = 1e-5;
/// Steps after which an iteration that has not settled is given up. It takes three or four.
const STEPS: usize = 40;

/// A settled fit.
pub(super) struct Fit {
    /// Places in the case of the inputs that are uncertain and take part.
    pub(super) active: Vec<usize>,
    unknowns: Vec<f64>,
    inputs: Vec<f64>,
    /// Variances of the active inputs.
    pub(super) variance: DVector<f64>,
    /// Orthonormal basis of the row space, in scaled unknowns.
    basis: DMatrix<f64>,
    sizes: DVector<f64>,
    pub(super) a: DMatrix<f64>,
    pub(super) d: DMatrix<f64>,
    pub(super) weight: Cholesky<f64, Dyn>,
    /// Takes misclosures to (scaled) unknowns.
    pub(super) gain: DMatrix<f64>,
    /// What is left of the misclosures.
    pub(super) left: DVector<f64>,
}

impl Fit {
    /// Fits the equations; `inputs` are the case's values as given.
    pub(super) fn of(case: &Case, equations: &[&Equation]) -> Result<Fit, EvidenceError> {
        let given: Vec<f64> = case.inputs.iter().map(|input| input.value).collect();
        let mut fit = Fit::start(case, equations, vec![0.0; case.unknowns.len()], given.clone())?;
        fit.settle(equations, &given)?;
        Ok(fit)
    }

    /// Linearises the equations at a point and stays there: what is left of the misclosures is not worked out.
    pub(super) fn at(
        case: &Case,
        equations: &[&Equation],
        unknowns: Vec<f64>,
        inputs: Vec<f64>,
    ) -> Result<Fit, EvidenceError> {
        let mut fit = Fit::start(case, equations, unknowns, inputs)?;
        fit.gain = gain(&fit.a, &fit.basis, &fit.weight)?;
        Ok(fit)
    }

    fn start(
        case: &Case,
        equations: &[&Equation],
        unknowns: Vec<f64>,
        inputs: Vec<f64>,
    ) -> Result<Fit, EvidenceError> {
        let active = active(case, equations.iter().map(|equation| &equation.form));
        let spread = |place: &usize| case.inputs.get(*place).map_or(0.0, super::Input::standard_si);
        let variance = DVector::from_iterator(active.len(), active.iter().map(|at| spread(at) * spread(at)));
        let sizes = DVector::from_iterator(case.unknowns.len(), case.unknowns.iter().map(|one| one.size()));
        let start = Jacobian::of(equations, &active, &sizes, &Point { unknowns: &unknowns, inputs: &inputs });
        Ok(Fit {
            basis: row_space(&start.a),
            weight: weight(&start.d, &variance)?,
            gain: DMatrix::zeros(0, 0),
            left: DVector::zeros(equations.len()),
            a: start.a,
            d: start.d,
            inputs,
            active,
            unknowns,
            variance,
            sizes,
        })
    }

    /// Iterates until nothing moves any more.
    fn settle(&mut self, equations: &[&Equation], given: &[f64]) -> Result<(), EvidenceError> {
        for _ in 0..STEPS {
            let moved = self.step(equations, given)?;
            if !moved.is_finite() {
                break;
            }
            if moved < SETTLED {
                return Ok(());
            }
        }
        Err(EvidenceError::DoesNotSettle)
    }

    /// Makes one step; returns the largest move of an unknown, in pascals or what is worth one.
    fn step(&mut self, equations: &[&Equation], given: &[f64]) -> Result<f64, EvidenceError> {
        let point = Point { unknowns: &self.unknowns, inputs: &self.inputs };
        let jacobian = Jacobian::of(equations, &self.active, &self.sizes, &point);
        let back = DVector::from_iterator(
            self.active.len(),
            self.active.iter().map(|at| value(given, *at) - value(&self.inputs, *at)),
        );
        let misclosure = jacobian.f + &jacobian.d * back;
        self.a = jacobian.a;
        self.d = jacobian.d;
        self.weight = weight(&self.d, &self.variance)?;
        self.gain = gain(&self.a, &self.basis, &self.weight)?;
        let change = -(&self.gain * &misclosure);
        self.left = misclosure + &self.a * &change;
        self.move_unknowns(&change);
        self.move_inputs(given);
        Ok(change.amax())
    }

    fn move_unknowns(&mut self, change: &DVector<f64>) {
        for ((unknown, step), size) in self.unknowns.iter_mut().zip(change.iter()).zip(self.sizes.iter()) {
            *unknown += step * size;
        }
    }

    fn move_inputs(&mut self, given: &[f64]) {
        let pull = self.d.tr_mul(&self.weight.solve(&self.left)).component_mul(&self.variance);
        for (at, pull) in self.active.iter().zip(pull.iter()) {
            if let Some(input) = self.inputs.get_mut(*at) {
                *input = value(given, *at) - pull;
            }
        }
    }

    /// Returns where unknowns and inputs stand now.
    pub(super) fn point(&self) -> Point<'_> {
        Point { unknowns: &self.unknowns, inputs: &self.inputs }
    }

    /// Returns the slopes of a form by scaled unknowns and by active inputs.
    pub(super) fn slopes(&self, form: &Form) -> (DVector<f64>, DVector<f64>) {
        let mut unknowns = DVector::zeros(self.sizes.len());
        let mut inputs = DVector::zeros(self.active.len());
        form.slopes(&self.point(), |var, slope| match var {
            Var::Unknown(at) => add(&mut unknowns, at, slope * value(self.sizes.as_slice(), at)),
            Var::Input(at) => {
                if let Ok(at) = self.active.binary_search(&at) {
                    add(&mut inputs, at, slope);
                }
            }
        });
        (unknowns, inputs)
    }

    /// Returns the covariance of the misclosures by the inputs alone.
    pub(super) fn covariance(&self) -> DMatrix<f64> {
        covariance(&self.d, &self.variance)
    }

    /// Returns an orthonormal basis of the mixtures of equations in which no unknown is left: the comparisons.
    pub(super) fn checks(&self) -> DMatrix<f64> {
        comparisons(&self.a, &self.basis)
    }

    /// Tells whether a function with these slopes by the scaled unknowns follows from the equations.
    pub(super) fn determines(&self, slopes: &DVector<f64>) -> bool {
        spans(&self.basis, slopes)
    }
}

/// Tells by the rank of the equations alone, with the inputs as given, whether they determine a function. The
/// numbers need not agree with each other, so this also answers for evidence that is only supposed.
pub(super) fn determined(case: &Case, equations: &[&Equation], form: &Form) -> bool {
    let inputs: Vec<f64> = case.inputs.iter().map(|input| input.value).collect();
    let unknowns = vec![0.0; case.unknowns.len()];
    let sizes = DVector::from_iterator(case.unknowns.len(), case.unknowns.iter().map(|one| one.size()));
    let point = Point { unknowns: &unknowns, inputs: &inputs };
    let mut slopes = DVector::zeros(sizes.len());
    form.slopes(&point, |var, slope| {
        if let Var::Unknown(at) = var {
            add(&mut slopes, at, slope * value(sizes.as_slice(), at));
        }
    });
    spans(&row_space(&Jacobian::of(equations, &[], &sizes, &point).a), &slopes)
}

/// Returns an orthonormal basis of the mixtures of rows in which nothing of the unknowns is left; `basis` is that of
/// the row space.
pub(super) fn comparisons(a: &DMatrix<f64>, basis: &DMatrix<f64>) -> DMatrix<f64> {
    let rows = a.nrows();
    if rows <= basis.ncols() {
        return DMatrix::zeros(rows, 0);
    }
    let taken = (a * basis).qr().q();
    let free = DMatrix::identity(rows, rows) - &taken * taken.transpose();
    let eigen = free.symmetric_eigen();
    let whole = |(_, part): &(usize, &f64)| **part > 0.5;
    let kept: Vec<usize> = eigen.eigenvalues.iter().enumerate().filter(whole).map(|(at, _)| at).collect();
    eigen.eigenvectors.select_columns(&kept)
}

/// Tells whether a vector lies in the space of a basis.
fn spans(basis: &DMatrix<f64>, slopes: &DVector<f64>) -> bool {
    let inside = basis * basis.tr_mul(slopes);
    (slopes - inside).norm() <= NOTHING * slopes.norm().max(1.0)
}

/// The equations at one point.
pub(super) struct Jacobian {
    pub(super) f: DVector<f64>,
    pub(super) a: DMatrix<f64>,
    pub(super) d: DMatrix<f64>,
}

impl Jacobian {
    pub(super) fn of(
        equations: &[&Equation],
        active: &[usize],
        sizes: &DVector<f64>,
        point: &Point<'_>,
    ) -> Jacobian {
        let mut all = Jacobian {
            f: DVector::zeros(equations.len()),
            a: DMatrix::zeros(equations.len(), sizes.len()),
            d: DMatrix::zeros(equations.len(), active.len()),
        };
        for (row, equation) in equations.iter().enumerate() {
            add(&mut all.f, row, equation.worth * equation.form.value(point));
            equation.form.slopes(point, |var, slope| match var {
                Var::Unknown(at) => {
                    add_to(&mut all.a, row, at, equation.worth * slope * value(sizes.as_slice(), at));
                }
                Var::Input(at) => {
                    if let Ok(at) = active.binary_search(&at) {
                        add_to(&mut all.d, row, at, equation.worth * slope);
                    }
                }
            });
        }
        all
    }
}

/// Returns the places of the uncertain inputs that forms use, in order.
fn active<'f>(case: &Case, forms: impl Iterator<Item = &'f Form>) -> Vec<usize> {
    let uncertain = |place: &usize| {
        case.inputs.get(*place).is_some_and(|input| input.standard_si() > 0.0 || input.assumed)
    };
    let mut places: Vec<usize> = forms
        .flat_map(Form::vars)
        .filter_map(|var| match var {
            Var::Input(place) => Some(place),
            Var::Unknown(_) => None,
        })
        .filter(uncertain)
        .collect();
    places.sort_unstable();
    places.dedup();
    places
}

fn value(values: &[f64], at: usize) -> f64 {
    values.get(at).copied().unwrap_or(f64::NAN)
}

fn add(vector: &mut DVector<f64>, at: usize, what: f64) {
    if let Some(place) = vector.get_mut(at) {
        *place += what;
    }
}

fn add_to(matrix: &mut DMatrix<f64>, row: usize, column: usize, what: f64) {
    if let Some(place) = matrix.get_mut((row, column)) {
        *place += what;
    }
}

/// Returns what keeps every weight finite.
pub(super) fn exactness(size: usize) -> DMatrix<f64> {
    DMatrix::from_diagonal_element(size, size, EXACT * EXACT)
}

/// Returns an orthonormal basis of the space that the rows span.
pub(super) fn row_space(a: &DMatrix<f64>) -> DMatrix<f64> {
    let rows = a.nrows().max(1);
    let decomposition = a.clone().resize(rows, a.ncols(), 0.0).svd(false, true);
    let Some(right) = decomposition.v_t else { return DMatrix::zeros(a.ncols(), 0) };
    let largest = decomposition.singular_values.max();
    let kept: Vec<usize> = decomposition
        .singular_values
        .iter()
        .enumerate()
        .filter(|(_, size)| **size > NOTHING * largest.max(1.0))
        .map(|(place, _)| place)
        .collect();
    right.select_rows(&kept).transpose()
}

fn covariance(d: &DMatrix<f64>, variance: &DVector<f64>) -> DMatrix<f64> {
    let mut spread = d.clone();
    for (mut column, variance) in spread.column_iter_mut().zip(variance.iter()) {
        column *= libm::sqrt(*variance);
    }
    &spread * spread.transpose()
}

fn weight(d: &DMatrix<f64>, variance: &DVector<f64>) -> Result<Cholesky<f64, Dyn>, EvidenceError> {
    Cholesky::new(covariance(d, variance) + exactness(d.nrows())).ok_or(EvidenceError::DoesNotSettle)
}

/// Returns the matrix that takes misclosures to unknowns: `(A' M^-1 A)^- A' M^-1` by a QR of the whitened
/// equations, which does not square their condition as the normal equations would.
fn gain(
    a: &DMatrix<f64>,
    basis: &DMatrix<f64>,
    weight: &Cholesky<f64, Dyn>,
) -> Result<DMatrix<f64>, EvidenceError> {
    if basis.ncols() == 0 {
        return Ok(DMatrix::zeros(a.ncols(), a.nrows()));
    }
    let lower = weight.l();
    let reduced = lower.solve_lower_triangular(&(a * basis)).ok_or(EvidenceError::DoesNotSettle)?;
    let whitener = lower
        .solve_lower_triangular(&DMatrix::identity(a.nrows(), a.nrows()))
        .ok_or(EvidenceError::DoesNotSettle)?;
    let qr = reduced.qr();
    let solved = qr.r().solve_upper_triangular(&(qr.q().transpose() * whitener));
    Ok(basis * solved.ok_or(EvidenceError::DoesNotSettle)?)
}
