//! What a check is judged by: the tolerance, how good the source is, and the guard band.

use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

use super::{Findings, FivePointError};
use crate::evidence::Conformity;

/// The test uncertainty ratio below which the bare word "pass" says too little. A rule of thumb of the trade.
pub const TUR_WANTED: f64 = 4.0;

/// What a check is judged by, as parts of the span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quality {
    /// The tolerance, either side.
    pub tolerance: Ratio,
    /// The source's expanded uncertainty, k = 2.
    pub source: Ratio,
    /// The expanded uncertainty of what the current is read with, k = 2; none for a display, which is itself what is
    /// checked, and where it is not known.
    pub meter: Option<Ratio>,
    /// One unit of the last digit that was read.
    pub digit: Ratio,
}

/// How a check was judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judgement {
    /// Where the worst point lies against tolerance and guard band; none where the uncertainty is too large to judge.
    pub conformity: Option<Conformity>,
    /// The expanded uncertainty of an error, 95 %.
    pub expanded: Ratio,
    /// What an error may be at most to pass: the tolerance less the expanded uncertainty.
    pub acceptance: Ratio,
    /// The tolerance over the source's expanded uncertainty.
    pub tur: f64,
}

impl Judgement {
    /// Tells whether the source is good enough not to be mentioned.
    #[must_use]
    pub fn source_is_good(&self) -> bool {
        // A ratio of exactly four is good; decimal input must not decide by its last binary digit.
        self.tur >= TUR_WANTED * (1.0 - 1e-12)
    }
}

/// Judges what a check found by its worst point, with a guard band equal to the expanded uncertainty (ILAC-G8).
///
/// The uncertainty is that of the source, of the meter, and of the last digit read (rectangular, half a digit
/// either side), in quadrature, k = 2. One that is not smaller than the tolerance judges nothing.
///
/// # Errors
///
/// [`FivePointError::NotANumber`] and [`FivePointError::NotPositive`] for what nothing can be judged by.
pub fn judge(findings: &Findings, quality: &Quality) -> Result<Judgement, FivePointError> {
    let tolerance = positive("The tolerance", quality.tolerance)?;
    let source = positive("The uncertainty of the source", quality.source)?;
    let meter = quality.meter.map_or(Ok(0.0), |meter| positive("The uncertainty of the meter", meter))?;
    let digit = quality.digit.get::<ratio>();
    if !digit.is_finite() || digit < 0.0 {
        return Err(FivePointError::NotANumber { what: "What was shown" });
    }
    // k = 2 of a rectangle of half a digit either side: 2 x (digit / 2) / sqrt(3).
    let expanded = libm::hypot(libm::hypot(source, meter), digit / libm::sqrt(3.0));
    let worst = findings.worst.error().get::<ratio>();
    Ok(Judgement {
        conformity: (expanded < tolerance).then(|| Conformity::of_parts(worst, expanded, tolerance)),
        expanded: Ratio::new::<ratio>(expanded),
        acceptance: Ratio::new::<ratio>((tolerance - expanded).max(0.0)),
        tur: tolerance / source,
    })
}

fn positive(what: &'static str, value: Ratio) -> Result<f64, FivePointError> {
    let value = value.get::<ratio>();
    if !value.is_finite() {
        return Err(FivePointError::NotANumber { what });
    }
    if value <= 0.0 {
        return Err(FivePointError::NotPositive { what });
    }
    Ok(value)
}
