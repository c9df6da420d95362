//! What each reference says alone, and how two of them differ.

use std::collections::BTreeSet;

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::alarm::PAIRS;
use super::beyond_by_chance;
use super::equation::{Equation, Form, Role, Var};
use super::estimate::{Estimate, Raw};
use super::fit::{Fit, determined};
use super::{Case, EvidenceError, ReferenceId};

/// What one reference says, with the readings and what is known of the unit's state but without the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Alone {
    /// Which reference.
    pub reference: ReferenceId,
    /// The reference that it needs beside it: neither says anything alone.
    pub with: Option<ReferenceId>,
    /// What it is called, or both.
    pub label: String,
    /// The shift by it alone; none where it determines none alone.
    pub shift: Option<Estimate<Pressure>>,
    /// True when it leans on the allowance on the sensor's zero.
    pub leans_on_allowance: bool,
}

/// Two lines that each give a shift.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// The place of one in [`Reconciled::alone`](super::Reconciled::alone).
    pub first: usize,
    /// The place of the other.
    pub second: usize,
    /// The shift by the first less the shift by the second, with what they share cancelled.
    pub difference: Estimate<Pressure>,
    /// The difference over its expanded uncertainty, covariance included; none where they share everything.
    pub en: Option<f64>,
    /// How much of their uncertainty they share, -1 to 1.
    pub correlation: f64,
    /// True when the two are different enough in their causes to check each other.
    pub independent: bool,
    /// How often honest references come out at least this far apart somewhere among all pairs of the visit, at most.
    pub chance: f64,
}

impl Pair {
    /// Tells whether the two disagree. One honest pair in twenty lies beyond `En` of one, and a visit has many pairs: only
    /// beyond what a thousand honest visits bring about it is disagreement.
    #[must_use]
    pub fn disagrees(&self) -> bool {
        self.chance < PAIRS
    }
}

/// Above this correlation two references say nearly the same thing twice.
const SHARED: f64 = 0.9;

pub(super) struct Lone {
    pub(super) told: Alone,
    raw: Option<Raw>,
}

/// The references of one line, and whether the allowance takes part.
#[derive(Clone, Copy)]
struct Line {
    reference: ReferenceId,
    with: Option<ReferenceId>,
    allowance: bool,
}

impl Line {
    fn of(reference: ReferenceId, with: Option<ReferenceId>) -> Line {
        Line { reference, with, allowance: false }
    }

    fn leaning(reference: ReferenceId) -> Line {
        Line { reference, with: None, allowance: true }
    }

    fn equations<'c>(&self, case: &'c Case, shift: &Form) -> Vec<&'c Equation> {
        let own = case.those(|role| match role {
            Role::Reading | Role::State => true,
            Role::Allowance => self.allowance,
            Role::Reference(place) => {
                place == self.reference.place() || self.with.is_some_and(|with| with.place() == place)
            }
        });
        telling(own, shift, case.unknowns.len())
    }

    fn speaks(&self, case: &Case, shift: &Form) -> bool {
        determined(case, &self.equations(case, shift), shift)
    }

    fn label(&self, case: &Case) -> String {
        let named = |id| case.reference_named(id).unwrap_or_default();
        match self.with {
            Some(with) => format!("{} with {}", named(self.reference), named(with)),
            None => named(self.reference).to_owned(),
        }
    }
}

/// Works out every line: a reference alone; else with each other one that does not speak alone either; else
/// with the allowance on the sensor's zero; else it says nothing.
pub(super) fn each(case: &Case, shift: &Form) -> Result<Vec<Lone>, EvidenceError> {
    lines(case, shift).into_iter().map(|line| one(case, shift, &line)).collect()
}

fn lines(case: &Case, shift: &Form) -> Vec<Line> {
    let ids: Vec<ReferenceId> = case.references().map(|(id, _)| id).collect();
    let (alone, silent): (Vec<ReferenceId>, Vec<ReferenceId>) =
        ids.into_iter().partition(|id| Line::of(*id, None).speaks(case, shift));
    let mut lines: Vec<Line> = alone.into_iter().map(|id| Line::of(id, None)).collect();
    let mut paired = Vec::new();
    for (place, first) in silent.iter().enumerate() {
        for second in silent.iter().skip(place + 1) {
            let line = Line::of(*first, Some(*second));
            if line.speaks(case, shift) {
                paired.extend([*first, *second]);
                lines.push(line);
            }
        }
    }
    lines.extend(silent.into_iter().filter(|id| !paired.contains(id)).map(Line::leaning));
    lines.sort_by_key(|line| (line.reference, line.with));
    lines
}

/// Leaves out equations with an unknown that stands in no other one: they tell about that unknown and nothing
/// else. With many levels read and one of them stated this is most of them.
fn telling<'c>(mut equations: Vec<&'c Equation>, shift: &Form, unknowns: usize) -> Vec<&'c Equation> {
    loop {
        let mut uses = vec![0_u32; unknowns];
        // What is asked for counts as a use of its own.
        count(&mut uses, shift);
        equations.iter().for_each(|equation| count(&mut uses, &equation.form));
        let before = equations.len();
        let lonely = |at: usize| uses.get(at).is_some_and(|uses| *uses < 2);
        equations.retain(|equation| !unknowns_of(&equation.form).into_iter().any(lonely));
        if equations.len() == before {
            return equations;
        }
    }
}

fn count(uses: &mut [u32], form: &Form) {
    for at in unknowns_of(form) {
        if let Some(uses) = uses.get_mut(at) {
            *uses += 1;
        }
    }
}

fn unknowns_of(form: &Form) -> BTreeSet<usize> {
    let unknown = |var| if let Var::Unknown(at) = var { Some(at) } else { None };
    form.vars().filter_map(unknown).collect()
}

fn one(case: &Case, shift: &Form, line: &Line) -> Result<Lone, EvidenceError> {
    // Without the allowance a line is only there because it speaks.
    let raw = if !line.allowance || line.speaks(case, shift) {
        Fit::of(case, &line.equations(case, shift))?.estimate(case, shift)
    } else {
        None
    };
    let told = Alone {
        reference: line.reference,
        with: line.with,
        label: line.label(case),
        shift: raw.as_ref().map(|raw| raw.stated(case, Pressure::new::<pascal>)),
        leans_on_allowance: line.allowance && raw.is_some(),
    };
    Ok(Lone { told, raw })
}

pub(super) fn pairs(case: &Case, alone: &[Lone]) -> Vec<Pair> {
    let speaking: Vec<(usize, &Raw)> =
        alone.iter().enumerate().filter_map(|(place, one)| Some((place, one.raw.as_ref()?))).collect();
    let mut pairs = Vec::new();
    for (place, first) in speaking.iter().enumerate() {
        pairs.extend(speaking.iter().skip(place + 1).map(|second| pair(case, *first, *second)));
    }
    #[allow(clippy::cast_precision_loss)] // A few pieces of evidence.
    let many = pairs.len() as f64;
    pairs.iter_mut().for_each(|pair: &mut Pair| pair.chance = (pair.chance * many).min(1.0));
    pairs
}

fn pair(case: &Case, first: (usize, &Raw), second: (usize, &Raw)) -> Pair {
    let difference = first.1.less(second.1).stated(case, Pressure::new::<pascal>);
    let scale = libm::sqrt(first.1.variance(case) * second.1.variance(case));
    let correlation = if scale > 0.0 { first.1.covariance(second.1, case) / scale } else { 0.0 };
    let expanded = difference.expanded.value;
    // Below a micropascal nothing is left but rounding: the two rest on the same causes altogether.
    let en = (expanded > 1e-6).then(|| difference.value.value / expanded);
    let scores = difference.value.value / difference.standard.value;
    let chance = en.map_or(1.0, |_| beyond_by_chance(scores, difference.freedom));
    Pair {
        first: first.0,
        second: second.0,
        difference,
        en,
        correlation,
        independent: en.is_some() && correlation < SHARED,
        chance,
    }
}
