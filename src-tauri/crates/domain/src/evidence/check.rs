//! Whether the evidence agrees with itself, and whether it could have told.

use nalgebra::{Cholesky, DMatrix};

use super::alarm::REFERENCES;
use super::equation::Role;
use super::fit::{EXACT, Fit, exactness};
use super::student::chi_square_beyond;
use super::{Case, EvidenceError, ReferenceId};

/// A comparison that sees less than this part of the variance it would see with nothing shared checks nothing
/// but repeatability.
const INDEPENDENT: f64 = 0.1;

/// What the comparison of the evidence with itself says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Agreement {
    /// Nothing here checks anything else.
    Unchecked,
    /// The evidence agrees, but what it shares (a tape, a hatch height, a reading) it cannot check.
    AgreesWithinShared,
    /// Independent evidence agrees.
    Agrees,
    /// Two things disagree; nothing here tells which is wrong.
    TwoDisagree,
    /// Several things disagree; taking no single one away mends it, or more than one would.
    Disagrees,
    /// Taking this reference away, and no other, leaves the rest in agreement.
    Suspect(ReferenceId),
}

/// The evidence against itself. The allowance on the sensor's zero takes part here.
#[derive(Debug, Clone, PartialEq)]
pub struct Consistency {
    /// Sum of squared, weighted misclosures.
    pub chi_square: f64,
    /// How many comparisons stand behind it.
    pub redundancy: usize,
    /// How many of them compare independent causes.
    pub independent: usize,
    /// How often honest evidence would come out at least this far apart.
    pub chance: f64,
    /// What that says.
    pub agreement: Agreement,
}

pub(super) fn consistency(case: &Case, everything: &Fit) -> Result<Consistency, EvidenceError> {
    let seen = Comparison::of(everything);
    let chance = chi_square_beyond(seen.chi_square, seen.redundancy);
    Ok(Consistency {
        chi_square: seen.chi_square,
        redundancy: seen.redundancy,
        independent: seen.independent,
        chance,
        agreement: agreement(case, &seen, chance)?,
    })
}

fn agreement(case: &Case, seen: &Comparison, chance: f64) -> Result<Agreement, EvidenceError> {
    Ok(match (seen.redundancy, chance < REFERENCES) {
        (0, _) => Agreement::Unchecked,
        (_, false) if seen.independent == 0 => Agreement::AgreesWithinShared,
        (_, false) => Agreement::Agrees,
        (1, true) => Agreement::TwoDisagree,
        (_, true) if seen.independent < 2 => Agreement::TwoDisagree,
        (_, true) => suspect(case)?.map_or(Agreement::Disagrees, Agreement::Suspect),
    })
}

/// Names the one reference without which the rest agrees and still checks itself.
fn suspect(case: &Case) -> Result<Option<ReferenceId>, EvidenceError> {
    let mut found = Vec::new();
    for (reference, _) in case.references() {
        let rest = Fit::of(case, &case.those(|role| role != Role::Reference(reference.0)))?;
        let seen = Comparison::of(&rest);
        let mended = chi_square_beyond(seen.chi_square, seen.redundancy) >= REFERENCES;
        if mended && seen.independent > 0 {
            found.push(reference);
        }
    }
    Ok(if let [only] = found.as_slice() { Some(*only) } else { None })
}

/// Tells whether there are comparisons enough that a disagreement would have a suspect.
pub(super) fn could_tell(fit: &Fit) -> bool {
    Comparison::of(fit).independent >= 2
}

struct Comparison {
    chi_square: f64,
    redundancy: usize,
    independent: usize,
}

impl Comparison {
    fn of(fit: &Fit) -> Comparison {
        let checks = fit.checks();
        let mut all = Comparison { chi_square: 0.0, redundancy: 0, independent: 0 };
        if checks.ncols() == 0 {
            return all;
        }
        let covariance = fit.covariance();
        let seen = checks.transpose() * &covariance * &checks;
        let apart = checks.tr_mul(&fit.left);
        let eigen = seen.clone().symmetric_eigen();
        for (place, variance) in eigen.eigenvalues.iter().enumerate() {
            let along = eigen.eigenvectors.column(place).dot(&apart);
            all.take(along, *variance);
        }
        all.independent = independent(&checks, &covariance, &seen);
        all
    }

    /// Counts one comparison. One that sees no uncertainty at all repeats an exact statement; it only counts
    /// when it contradicts it.
    fn take(&mut self, apart: f64, variance: f64) {
        let exact = EXACT * EXACT;
        if variance > 10.0 * exact || apart.abs() > 10.0 * EXACT {
            self.redundancy += 1;
            self.chi_square += apart * apart / variance.max(exact);
        }
    }
}

/// Counts the comparisons that see most of what they would see with nothing shared.
fn independent(checks: &DMatrix<f64>, covariance: &DMatrix<f64>, seen: &DMatrix<f64>) -> usize {
    let unshared = DMatrix::from_diagonal(&covariance.diagonal());
    let total = checks.transpose() * unshared * checks + exactness(checks.ncols());
    let Some(factor) = Cholesky::new(total) else { return 0 };
    let lower = factor.l();
    let Some(half) = lower.solve_lower_triangular(seen) else { return 0 };
    let Some(whole) = lower.solve_lower_triangular(&half.transpose()) else { return 0 };
    whole.symmetric_eigenvalues().iter().filter(|part| **part > INDEPENDENT).count()
}
