//! A case with its equations fitted once, for everything that is asked of them.

use super::equation::{Form, Role};
use super::estimate::Raw;
use super::fit::Fit;
use super::{Case, EvidenceError};

/// A case, fitted.
pub struct Solved<'c> {
    pub(super) case: &'c Case,
    /// What was measured, without the allowance on the sensor's zero.
    pub(super) measured: Fit,
    /// Everything.
    pub(super) everything: Fit,
}

impl Case {
    /// Fits the equations.
    ///
    /// # Errors
    ///
    /// As [`Case::reconcile`].
    pub fn solve(&self) -> Result<Solved<'_>, EvidenceError> {
        self.verify()?;
        Ok(Solved {
            case: self,
            measured: Fit::of(self, &self.those(|role| role != Role::Allowance))?,
            everything: Fit::of(self, &self.those(|_| true))?,
        })
    }
}

impl Solved<'_> {
    /// Returns a function by what was measured, and by everything where that leaves it open; with the fit it came from, and
    /// true where the allowance was needed.
    pub(super) fn estimate(&self, form: &Form) -> Option<(&Fit, Raw, bool)> {
        let by = |fit, leans| Fit::estimate(fit, self.case, form).map(|raw| (fit, raw, leans));
        by(&self.measured, false).or_else(|| by(&self.everything, true))
    }
}
