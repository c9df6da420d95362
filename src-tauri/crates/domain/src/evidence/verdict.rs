//! What may be claimed: whether to adjust at all, and what was reached.
//!
//! The decision rule is the guard band of ILAC-G8:09/2019 with `w = U`: inside the tolerance by at least the
//! expanded uncertainty passes. An error as left that is measured against the very reference the trim rested on
//! agrees by construction, so it is never called a pass: without evidence from outside the trim the record
//! says so.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::student::normal_below;
use super::{BudgetRow, Estimate, EvidenceError, LevelError};

/// What a level may be off by, and when it is worth adjusting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// The tolerance, either side.
    pub tolerance: Length,
    /// The least error worth adjusting; half the tolerance where none is set.
    pub adjust: Option<Length>,
    /// Level at 100 % above level at 0 %.
    pub span: Length,
}

impl Limits {
    /// Refuses limits that nothing can be judged by.
    ///
    /// # Errors
    ///
    /// [`EvidenceError::NotPositive`] names the first that is not more than zero.
    pub fn verify(&self) -> Result<(), EvidenceError> {
        let named = [
            ("The tolerance", Some(self.tolerance)),
            ("The adjust limit", self.adjust),
            ("The span", Some(self.span)),
        ];
        for (label, length) in named {
            if length.is_some_and(|length| !length.value.is_finite() || length.value <= 0.0) {
                return Err(EvidenceError::NotPositive { label: label.to_owned() });
            }
        }
        Ok(())
    }

    /// Returns the error below which nothing is adjusted: as set or half the tolerance, never less than the
    /// expanded uncertainty.
    #[must_use]
    pub fn adjust_limit(&self, expanded: Length) -> Length {
        let set = self.adjust.unwrap_or(self.tolerance * 0.5);
        Length::new::<meter>(set.value.max(expanded.value))
    }

    /// Returns an error in percent of the span.
    #[must_use]
    pub fn percent(&self, error: Length) -> f64 {
        error.value / self.span.value * 100.0
    }
}

/// Whether to adjust.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advice {
    /// The error is beyond the adjust limit.
    Adjust {
        /// The limit.
        limit: Length,
    },
    /// Inside the adjust limit: as left is as found.
    DoNotAdjust {
        /// The limit.
        limit: Length,
    },
}

/// Says whether an error is worth adjusting. Trimming inside the noise destroys the drift history.
///
/// # Errors
///
/// [`EvidenceError::NotPositive`] for limits that nothing can be judged by; [`EvidenceError::NotANumber`] for
/// an error that is none.
pub fn advise(error: &LevelError, limits: &Limits) -> Result<Advice, EvidenceError> {
    limits.verify()?;
    sound(error)?;
    let limit = limits.adjust_limit(error.expanded);
    let inside = error.value.value.abs() <= limit.value;
    Ok(if inside { Advice::DoNotAdjust { limit } } else { Advice::Adjust { limit } })
}

/// Where an error lies against tolerance and guard band (ILAC-G8, the rule with four answers).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Conformity {
    /// Inside the tolerance by at least the expanded uncertainty.
    Pass,
    /// Inside the tolerance, but by less.
    ConditionalPass,
    /// Outside the tolerance, by no more than the expanded uncertainty.
    ConditionalFail,
    /// Outside by more.
    Fail,
}

impl Conformity {
    /// Places an error.
    #[must_use]
    pub fn of(error: Length, expanded: Length, tolerance: Length) -> Conformity {
        Conformity::of_parts(error.value, expanded.value, tolerance.value)
    }

    /// Places an error of any kind: the three are in one unit.
    pub(crate) fn of_parts(error: f64, expanded: f64, tolerance: f64) -> Conformity {
        let beyond = error.abs() - tolerance;
        // A number exactly on a limit passes it; decimal input must not decide by its last binary digit.
        let hair = 1e-12 * tolerance.abs();
        if beyond <= hair - expanded {
            Conformity::Pass
        } else if beyond <= hair {
            Conformity::ConditionalPass
        } else if beyond <= expanded + hair {
            Conformity::ConditionalFail
        } else {
            Conformity::Fail
        }
    }

    /// Returns the answer of the rule with two answers.
    #[must_use]
    pub fn passes(self) -> bool {
        self == Conformity::Pass
    }
}

/// Returns how probable it is that the true error is within tolerance (JCGM 106, normal distribution).
#[must_use]
pub fn conformance_probability(error: &Estimate<Length>, tolerance: Length) -> f64 {
    let standard = error.standard.value;
    if standard > 0.0 {
        let at = |limit: f64| normal_below((limit - error.value.value) / standard);
        at(tolerance.value) - at(-tolerance.value)
    } else {
        f64::from(u8::from(error.value.value.abs() <= tolerance.value))
    }
}

/// What an error as left rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// Only on the references the trim itself rested on.
    SameReference,
    /// On evidence taken after the trim, or before it but kept out of it.
    Independent,
}

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// The trim was made and took.
    Trimmed(Proof),
    /// Nothing was adjusted; the error was judged against the evidence of the day, which owes nothing to a trim.
    Left,
    /// The trim failed and the unit was put back as found.
    PutBack,
}

/// The verdict on a visit.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Judged against tolerance and guard band.
    Judged {
        /// Where it lies.
        conformity: Conformity,
        /// True when a trim was made.
        trimmed: bool,
    },
    /// The trim agrees with the reference it rested on, and nothing outside it was measured.
    TrimmedNotProved,
    /// The display as left is not where the trim should have put it: the step may not have taken.
    TrimMissed,
    /// The uncertainty is not smaller than the tolerance. The labels are what most of it comes from.
    TooUncertain {
        /// What would reduce it, largest part first.
        reduce: Vec<String>,
    },
    /// The trim failed; the unit is as it was found.
    PutBack,
}

impl Verdict {
    /// Returns a stable word for it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Verdict::Judged { conformity, .. } => match conformity {
                Conformity::Pass => "within",
                Conformity::ConditionalPass => "within_doubtful",
                Conformity::ConditionalFail => "outside_doubtful",
                Conformity::Fail => "outside",
            },
            Verdict::TrimmedNotProved => "trimmed_not_proved",
            Verdict::TrimMissed => "trim_missed",
            Verdict::TooUncertain { .. } => "not_judged",
            Verdict::PutBack => "put_back",
        }
    }

    /// Returns the verdict in words.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Verdict::Judged { conformity, trimmed } => {
                let state =
                    if *trimmed { "Trimmed, and judged by evidence taken after it" } else { "Left as found" };
                format!("{state}: {}.", conformity.words())
            }
            Verdict::TrimmedNotProved => "Trimmed, not independently proved: the display agrees with the \
                reference it was trimmed to, as it must. Take a second dip or another level to prove it."
                .to_owned(),
            Verdict::TrimMissed => {
                "The display is not where the trim should have put it. Check that the trim \
                took, trim again or put it back as found."
                    .to_owned()
            }
            Verdict::TooUncertain { reduce } if reduce.is_empty() => {
                "Not judged, uncertainty too large.".to_owned()
            }
            Verdict::TooUncertain { reduce } => {
                format!("Not judged, uncertainty too large. Most of it comes from: {}.", reduce.join("; "))
            }
            Verdict::PutBack => {
                "Put back as found: the trim did not take and the old offset is in force.".to_owned()
            }
        }
    }
}

impl Conformity {
    /// Returns it in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Conformity::Pass => "within tolerance, with room for the uncertainty",
            Conformity::ConditionalPass => "within tolerance, but by less than the uncertainty",
            Conformity::ConditionalFail => "outside tolerance, but by less than the uncertainty",
            Conformity::Fail => "outside tolerance by more than the uncertainty",
        }
    }
}

/// Judges an error as left.
///
/// `budget` is that of the shift or of the error; its largest rows say what would reduce the uncertainty.
///
/// # Errors
///
/// [`EvidenceError::NotPositive`] for limits that nothing can be judged by; [`EvidenceError::NotANumber`] for
/// an error that is none.
pub fn judge(
    error: &LevelError,
    limits: &Limits,
    done: Done,
    budget: &[BudgetRow],
) -> Result<Verdict, EvidenceError> {
    limits.verify()?;
    sound(error)?;
    if done == Done::PutBack {
        return Ok(Verdict::PutBack);
    }
    if error.expanded.value >= limits.tolerance.value {
        return Ok(Verdict::TooUncertain { reduce: largest(budget) });
    }
    if done == Done::Trimmed(Proof::SameReference) {
        // What would be adjusted as found is no trim as left, whatever the tolerance still allows.
        let took = error.value.value.abs() <= limits.adjust_limit(error.expanded).value;
        return Ok(if took { Verdict::TrimmedNotProved } else { Verdict::TrimMissed });
    }
    let conformity = Conformity::of(error.value, error.expanded, limits.tolerance);
    Ok(Verdict::Judged { conformity, trimmed: done != Done::Left })
}

/// Returns the rule a verdict was reached by, as a sentence; `show` writes a length as the site does.
#[must_use]
pub fn rule_sentence(limits: &Limits, expanded: Length, show: impl Fn(Length) -> String) -> String {
    format!(
        "Rule (ILAC-G8:09/2019, guard band equal to the expanded uncertainty): within tolerance when the error \
         is no more than {} - {} = {}; the uncertainty is expanded at 95 %.",
        show(limits.tolerance),
        show(expanded),
        show(limits.tolerance - expanded),
    )
}

/// Names the rows that make up most of a variance: at most three, and none under a tenth.
fn largest(budget: &[BudgetRow]) -> Vec<String> {
    budget.iter().take(3).filter(|row| row.share >= 0.1).map(|row| row.label.clone()).collect()
}

fn sound(error: &LevelError) -> Result<(), EvidenceError> {
    let numbers = [error.value.value, error.standard.value, error.expanded.value];
    if numbers.iter().all(|number| number.is_finite()) && error.expanded.value >= 0.0 {
        Ok(())
    } else {
        Err(EvidenceError::NotANumber { label: "The error".to_owned() })
    }
}
