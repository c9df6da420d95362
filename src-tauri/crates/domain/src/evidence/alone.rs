//! What each reference says alone, and how two of them differ.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::equation::{Form, Role};
use super::estimate::{Estimate, Raw};
use super::fit::Fit;
use super::{Case, EvidenceError, ReferenceId};

/// What one reference says, with the readings and what is known of the unit's state but without the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Alone {
    /// Which reference.
    pub reference: ReferenceId,
    /// What it is called.
    pub label: String,
    /// The shift by it alone; none where it determines none alone.
    pub shift: Option<Estimate<Pressure>>,
    /// True when it leans on the allowance on the sensor's zero.
    pub leans_on_allowance: bool,
}

/// Two references that each determine a shift.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// One.
    pub first: ReferenceId,
    /// The other.
    pub second: ReferenceId,
    /// The shift by the first less the shift by the second, with what they share cancelled.
    pub difference: Estimate<Pressure>,
    /// The difference over its expanded uncertainty, covariance included; none where they share everything.
    pub en: Option<f64>,
    /// How much of their uncertainty they share, -1 to 1.
    pub correlation: f64,
    /// True when the two are different enough in their causes to check each other.
    pub independent: bool,
}

/// Above this correlation two references say nearly the same thing twice.
const SHARED: f64 = 0.9;

pub(super) struct Lone {
    pub(super) told: Alone,
    raw: Option<Raw>,
}

pub(super) fn each(case: &Case, shift: &Form) -> Result<Vec<Lone>, EvidenceError> {
    case.references().map(|(reference, label)| one(case, shift, reference, label)).collect()
}

fn one(case: &Case, shift: &Form, reference: ReferenceId, label: &str) -> Result<Lone, EvidenceError> {
    let own = |role| matches!(role, Role::Reading | Role::State) || role == Role::Reference(reference.0);
    let measured = Fit::of(case, &case.those(own))?.estimate(case, shift);
    let (raw, leans) = match measured {
        Some(raw) => (Some(raw), false),
        None => {
            let with = Fit::of(case, &case.those(|role| own(role) || role == Role::Allowance))?;
            (with.estimate(case, shift), true)
        }
    };
    let shift = raw.as_ref().map(|raw| raw.stated(case, Pressure::new::<pascal>));
    let leans_on_allowance = leans && raw.is_some();
    let told = Alone { reference, label: label.to_owned(), shift, leans_on_allowance };
    Ok(Lone { told, raw })
}

pub(super) fn pairs(case: &Case, alone: &[Lone]) -> Vec<Pair> {
    let speaking: Vec<(ReferenceId, &Raw)> =
        alone.iter().filter_map(|one| Some((one.told.reference, one.raw.as_ref()?))).collect();
    let mut pairs = Vec::new();
    for (place, first) in speaking.iter().enumerate() {
        pairs.extend(speaking.iter().skip(place + 1).map(|second| pair(case, *first, *second)));
    }
    pairs
}

fn pair(case: &Case, first: (ReferenceId, &Raw), second: (ReferenceId, &Raw)) -> Pair {
    let difference = first.1.less(second.1).stated(case, Pressure::new::<pascal>);
    let scale = libm::sqrt(first.1.variance(case) * second.1.variance(case));
    let correlation = if scale > 0.0 { first.1.covariance(second.1, case) / scale } else { 0.0 };
    let expanded = difference.expanded.value;
    // Below a micropascal nothing is left but rounding: the two rest on the same causes altogether.
    let en = (expanded > 1e-6).then(|| difference.value.value / expanded);
    Pair {
        first: first.0,
        second: second.0,
        difference,
        en,
        correlation,
        independent: en.is_some() && correlation < SHARED,
    }
}
