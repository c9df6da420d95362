//! A result of a fit, propagated to its independent inputs.

use nalgebra::DVector;

use super::equation::Form;
use super::fit::Fit;
use super::input::Dimension;
use super::{Amount, Case, Distribution, InputId, coverage_95};

/// A value with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate<Q> {
    /// The value.
    pub value: Q,
    /// Standard uncertainty.
    pub standard: Q,
    /// Expanded uncertainty, 95 %.
    pub expanded: Q,
    /// Coverage factor.
    pub coverage: f64,
    /// Effective degrees of freedom (Welch-Satterthwaite); may be infinite.
    pub freedom: f64,
}

/// One line of an uncertainty budget.
#[derive(Debug, Clone, PartialEq)]
pub struct BudgetRow {
    /// Which input.
    pub input: InputId,
    /// What it is called.
    pub label: String,
    /// Its value.
    pub value: Amount,
    /// Its standard uncertainty.
    pub standard: Amount,
    /// What was stated: a half-width, or the standard uncertainty itself.
    pub stated: Amount,
    /// The shape of its uncertainty.
    pub distribution: Distribution,
    /// What the stated number was divided by.
    pub divisor: f64,
    /// Change of the result (SI) for one SI unit of the input.
    pub sensitivity: f64,
    /// Its part of the result's standard uncertainty, signed.
    pub contribution: Amount,
    /// Its degrees of freedom; may be infinite.
    pub freedom: f64,
    /// Its share of the result's variance, 0 to 1.
    pub share: f64,
    /// It is an assumption.
    pub assumed: bool,
}

/// Something assumed, with what it does to the result.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// Which input.
    pub input: InputId,
    /// What it is called.
    pub label: String,
    /// Its value.
    pub value: Amount,
    /// Its standard uncertainty.
    pub standard: Amount,
    /// Change of the result (SI) for one SI unit of it.
    pub sensitivity: f64,
    /// Its share of the result's variance, 0 to 1.
    pub share: f64,
}

/// A result in SI units, with the sensitivity to every input of the case.
#[derive(Debug, Clone)]
pub(super) struct Raw {
    pub(super) value: f64,
    pub(super) sensitivity: Vec<f64>,
}

impl Fit {
    /// Estimates a function, or tells that the equations do not determine it.
    pub(super) fn estimate(&self, case: &Case, form: &Form) -> Option<Raw> {
        let (unknowns, inputs) = self.slopes(form);
        self.determines(&unknowns).then(|| self.propagated(case, form, &unknowns, &inputs))
    }

    /// Estimates a function of inputs alone, which needs no equation to be determined.
    pub(super) fn function_of_inputs(&self, case: &Case, form: &Form) -> Raw {
        let (unknowns, inputs) = self.slopes(form);
        self.propagated(case, form, &unknowns, &inputs)
    }

    fn propagated(&self, case: &Case, form: &Form, unknowns: &DVector<f64>, inputs: &DVector<f64>) -> Raw {
        let mut sensitivity = vec![0.0; case.inputs.len()];
        let active = self.sensitivity(unknowns, inputs);
        for (at, slope) in self.active.iter().zip(active.iter()) {
            if let Some(place) = sensitivity.get_mut(*at) {
                *place = *slope;
            }
        }
        self.strangers(form, &mut sensitivity);
        Raw { value: form.value(&self.point()), sensitivity }
    }

    /// Returns how the fitted function moves with the inputs as given: by the unknowns they move, and by the
    /// fitted inputs that stand in the function itself.
    fn sensitivity(&self, unknowns: &DVector<f64>, inputs: &DVector<f64>) -> DVector<f64> {
        let by_unknowns = self.gain.tr_mul(unknowns);
        let spread = inputs.component_mul(&self.variance);
        let pull = self.weight.solve(&(&self.d * spread));
        let passed_on = self.gain.tr_mul(&self.a.tr_mul(&pull));
        self.d.tr_mul(&(passed_on - pull - by_unknowns)) + inputs
    }

    /// Adds the slopes by inputs that stand in the function but in none of the equations.
    fn strangers(&self, form: &Form, sensitivity: &mut [f64]) {
        form.slopes(&self.point(), |var, slope| {
            if let super::equation::Var::Input(at) = var
                && self.active.binary_search(&at).is_err()
                && let Some(place) = sensitivity.get_mut(at)
            {
                *place += slope;
            }
        });
    }
}

/// The fourth power, as the formula of Welch and Satterthwaite wants it of every input: a general power is many times as
/// slow.
pub(super) fn fourth(part: f64) -> f64 {
    let square = part * part;
    square * square
}

impl Raw {
    fn parts<'a>(&'a self, case: &'a Case) -> impl Iterator<Item = (f64, f64)> + 'a {
        let inputs = case.inputs.iter().zip(&self.sensitivity);
        inputs.map(|(input, slope)| (slope * input.standard_si(), input.spread.freedom()))
    }

    pub(super) fn variance(&self, case: &Case) -> f64 {
        self.parts(case).map(|(part, _)| part * part).sum()
    }

    /// Returns the covariance with another result of the same case.
    pub(super) fn covariance(&self, other: &Raw, case: &Case) -> f64 {
        self.parts(case).zip(other.parts(case)).map(|((one, _), (two, _))| one * two).sum()
    }

    /// Returns this result less another one.
    pub(super) fn less(&self, other: &Raw) -> Raw {
        let both = self.sensitivity.iter().zip(&other.sensitivity);
        Raw { value: self.value - other.value, sensitivity: both.map(|(one, two)| one - two).collect() }
    }

    /// Returns the result over another one.
    pub(super) fn over(&self, other: &Raw) -> Raw {
        let value = self.value / other.value;
        let both = self.sensitivity.iter().zip(&other.sensitivity);
        Raw { value, sensitivity: both.map(|(top, under)| (top - value * under) / other.value).collect() }
    }

    /// Returns the result times a factor taken as known.
    pub(super) fn times(&self, factor: f64) -> Raw {
        let sensitivity = self.sensitivity.iter().map(|slope| slope * factor).collect();
        Raw { value: self.value * factor, sensitivity }
    }

    pub(super) fn freedom(&self, case: &Case) -> f64 {
        let variance = self.variance(case);
        let sum: f64 = self.parts(case).map(|(part, freedom)| fourth(part) / freedom).sum();
        if sum > 0.0 { variance * variance / sum } else { f64::INFINITY }
    }

    pub(super) fn stated<Q>(&self, case: &Case, unit: impl Fn(f64) -> Q) -> Estimate<Q> {
        let standard = libm::sqrt(self.variance(case));
        let freedom = self.freedom(case);
        let coverage = coverage_95(freedom);
        Estimate {
            value: unit(self.value),
            standard: unit(standard),
            expanded: unit(coverage * standard),
            coverage,
            freedom,
        }
    }

    /// Returns the budget, largest part first.
    pub(super) fn budget(&self, case: &Case, dimension: Dimension) -> Vec<BudgetRow> {
        let variance = self.variance(case);
        let mut rows: Vec<BudgetRow> = case
            .inputs
            .iter()
            .zip(&self.sensitivity)
            .enumerate()
            .map(|(place, (input, slope))| {
                let part = slope * input.standard_si();
                BudgetRow {
                    input: InputId(place),
                    label: input.label.clone(),
                    value: input.value(),
                    standard: input.standard(),
                    stated: Amount::of(input.dimension, input.spread.stated()),
                    distribution: input.spread.distribution(),
                    divisor: input.spread.divisor(),
                    sensitivity: *slope,
                    contribution: Amount::of(dimension, part),
                    freedom: input.spread.freedom(),
                    share: part * part / variance,
                    assumed: input.assumed,
                }
            })
            // Neither what is exact nor what rounding leaves of a cancelled input is a line of the budget.
            .filter(|row| row.share > 1e-15)
            .collect();
        rows.sort_by(|one, two| two.share.total_cmp(&one.share).then(one.input.cmp(&two.input)));
        rows
    }

    /// Returns the assumed inputs that the result leans on.
    pub(super) fn assumptions(&self, case: &Case) -> Vec<Assumption> {
        let variance = self.variance(case);
        case.inputs
            .iter()
            .zip(&self.sensitivity)
            .enumerate()
            .filter(|(_, (input, _))| input.assumed)
            .map(|(place, (input, slope))| {
                let part = slope * input.standard_si();
                Assumption {
                    input: InputId(place),
                    label: input.label.clone(),
                    value: input.value(),
                    standard: input.standard(),
                    sensitivity: *slope,
                    share: if variance > 0.0 { part * part / variance } else { 0.0 },
                }
            })
            .filter(|one| one.sensitivity.abs() > 1e-9)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use uom::si::f64::Length;
    use uom::si::length::meter;

    use super::super::equation::Var;
    use super::super::{Input, Spread};
    use super::*;

    /// 3 m times 4 m, of which no equation knows: 4 for one of the first, 3 for one of the other.
    #[test]
    fn a_function_of_inputs_moves_with_those_that_no_equation_has() {
        let mut case = Case::new();
        let sides = [3.0, 4.0].map(|side| {
            let metres = Length::new::<meter>;
            case.input(Input::length("side", metres(side), Spread::Standard(metres(0.1))))
        });
        let mut form = Form::default();
        form.product(1.0, sides.map(|side| Var::Input(side.0)).to_vec());
        let area = Fit::of(&case, &[]).unwrap().function_of_inputs(&case, &form);
        assert!((area.value - 12.0).abs() < 1e-12);
        assert_eq!(area.sensitivity, [4.0, 3.0]);
    }

    /// 6 by one input, 3 by twice another: their quotient 2 grows by a third of the first, and falls by 2 times 2 / 3 of
    /// the other.
    #[test]
    fn a_quotient_moves_with_what_is_above_and_against_what_is_below() {
        let above = Raw { value: 6.0, sensitivity: vec![1.0, 0.0] };
        let below = Raw { value: 3.0, sensitivity: vec![0.0, 2.0] };
        let over = above.over(&below);
        assert!((over.value - 2.0).abs() < 1e-12);
        for (found, expected) in over.sensitivity.iter().zip([1.0 / 3.0, -4.0 / 3.0]) {
            assert!((found - expected).abs() < 1e-12, "{found} against {expected}");
        }
    }
}
