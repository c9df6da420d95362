//! The shift that follows from a case.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::alone::{self, Alone, Pair};
use super::case::Unknown;
use super::check::{self, Consistency};
use super::equation::{Equation, Form, Role, Var};
use super::estimate::{Assumption, BudgetRow, Estimate, Raw};
use super::fit::Fit;
use super::input::Dimension;
use super::ways::{self, WayOut};
use super::{Case, Column, EvidenceError, LevelId, OffsetId, Solved};

/// What a trim makes true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rule {
    /// With the surface at the tank's zero the display shows its target there.
    TrueAtZero,
    /// With the surface where the evidence puts it the display shows that level.
    TrueAtReference {
        /// The level that counts.
        level: LevelId,
        /// What the display moves by, in its own pascals, over `length` of level: the plain length unit of its
        /// range. A display ranged in pressure has none: for it this rule is [`Rule::TrueAtZero`].
        shown: Pressure,
        /// See `shown`.
        length: Length,
    },
}

/// What is asked of a case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ask {
    /// The state of the unit that is to be trimmed, or judged.
    pub offset: OffsetId,
    /// The display in that state.
    pub display: Pressure,
    /// What a trim makes true.
    pub rule: Rule,
    /// What the display is to show at the tank's zero: nothing for a trimmed range, LRV for a raw one.
    pub target: Pressure,
    /// The liquid that turns pascals of error into level.
    pub column: Column,
}

/// The display's error as a level: positive when it shows too much.
pub type LevelError = Estimate<Length>;

/// What follows from a case.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// The shift is determined.
    Determined(Box<Reconciled>),
    /// It is not: the ways out, best first.
    NotDetermined(Vec<WayOut>),
}

impl Outcome {
    /// Returns the result where there is one.
    #[must_use]
    pub fn determined(&self) -> Option<&Reconciled> {
        match self {
            Outcome::Determined(result) => Some(result),
            Outcome::NotDetermined(_) => None,
        }
    }
}

/// The shift and all that belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reconciled {
    /// The display the trim starts from.
    pub from: Pressure,
    /// The display to trim to.
    pub to: Pressure,
    /// What the trim adds.
    pub shift: Estimate<Pressure>,
    /// The shift as a height of this liquid, what is not known of density and gravity included: only for
    /// showing, since it changes its meaning with the density while the pascals do not.
    pub height: Estimate<Length>,
    /// The display's error before that trim, as a level (the shift with the other sign).
    pub error: LevelError,
    /// What a metre of liquid presses on the display, by the inputs as given.
    pub per_metre: Pressure,
    /// The uncertainty budget of the shift, largest part first.
    pub budget: Vec<BudgetRow>,
    /// What is assumed, with its share.
    pub assumptions: Vec<Assumption>,
    /// True when the allowance on the sensor's zero had to be brought in.
    pub leans_on_allowance: bool,
    /// Each level that follows.
    pub levels: Vec<(LevelId, Estimate<Length>)>,
    /// The sensor's zero error, where the measured equations determine it.
    pub zero: Option<Estimate<Pressure>>,
    /// The standing head, where determined.
    pub head: Option<Estimate<Pressure>>,
    /// The offset carried, where known.
    pub carried: Option<Estimate<Pressure>>,
    /// The new total offset, where the carried one is known.
    pub total: Option<Estimate<Pressure>>,
    /// Each reference alone, or the two that only speak together.
    pub alone: Vec<Alone>,
    /// Each two lines of `alone` that give a shift.
    pub pairs: Vec<Pair>,
    /// Whether the evidence agrees with itself.
    pub consistency: Consistency,
}

impl Case {
    /// Works out the shift, or the ways to one.
    ///
    /// # Errors
    ///
    /// An [`EvidenceError`] where an input cannot be used, parts do not belong together, or the numbers are so
    /// far apart that nothing settles. Evidence that contradicts itself but can be weighed is no error: see
    /// [`Reconciled::consistency`].
    pub fn reconcile(&self, ask: &Ask) -> Result<Outcome, EvidenceError> {
        self.solve()?.reconcile(ask)
    }
}

impl Solved<'_> {
    /// Works out the shift, or the ways to one.
    ///
    /// # Errors
    ///
    /// As [`Case::reconcile`].
    pub fn reconcile(&self, ask: &Ask) -> Result<Outcome, EvidenceError> {
        let case = self.case;
        case.verify_ask(ask)?;
        let form = case.shift_form(ask);
        let Some((used, shift, leans)) = self.estimate(&form) else {
            return Ok(Outcome::NotDetermined(ways::out(case, ask)));
        };
        let alone = alone::each(case, &form)?;
        Ok(Outcome::Determined(Box::new(Reconciled {
            from: ask.display,
            to: ask.display + Pressure::new::<pascal>(shift.value),
            shift: shift.stated(case, Pressure::new::<pascal>),
            error: shift.times(-1.0 / case.per_level(ask)).stated(case, Length::new::<meter>),
            height: case.height(used, &shift, ask.column),
            per_metre: Pressure::new::<pascal>(case.press(ask.column)),
            budget: shift.budget(case, Dimension::Pressure),
            assumptions: shift.assumptions(case),
            leans_on_allowance: leans,
            levels: case.fitted_levels(used),
            zero: case.fitted(&self.measured, &[(1.0, Case::ZERO)]),
            head: case.fitted(used, &[(1.0, Case::HEAD)]),
            carried: case.fitted(used, &[(1.0, ask.offset.0)]),
            total: case.total(used, form, ask),
            pairs: alone::pairs(case, &alone),
            alone: alone.into_iter().map(|one| one.told).collect(),
            consistency: check::consistency(case, &self.everything)?,
        })))
    }
}

impl Case {
    /// Returns the equations whose role passes.
    pub(super) fn those(&self, pass: impl Fn(Role) -> bool) -> Vec<&Equation> {
        self.equations.iter().filter(|equation| pass(equation.role)).collect()
    }

    /// Returns the shift as a function of unknowns and inputs.
    pub(super) fn shift_form(&self, ask: &Ask) -> Form {
        let mut form = Form::constant(ask.target.value);
        for unknown in [Case::ZERO, ask.offset.0, Case::HEAD] {
            form.add(-1.0, Var::Unknown(unknown));
        }
        if let Rule::TrueAtReference { level, shown, length } = ask.rule {
            form.add((shown / length).value, Var::Unknown(level.0));
            ask.column.press(&mut form, -1.0, &[Var::Unknown(level.0)]);
        }
        form
    }

    pub(super) fn verify_ask(&self, ask: &Ask) -> Result<(), EvidenceError> {
        let number = |label: &str, sound: bool| {
            if sound { Ok(()) } else { Err(EvidenceError::NotANumber { label: label.to_owned() }) }
        };
        number("The display now", ask.display.value.is_finite())?;
        number("The target at zero", ask.target.value.is_finite())?;
        let mut own = self.unknowns.get(ask.offset.0) == Some(&Unknown::Offset);
        if let Rule::TrueAtReference { level, shown, length } = ask.rule {
            own &= self.unknowns.get(level.0) == Some(&Unknown::Level);
            let per_length = (shown / length).value;
            number("The display's length unit", per_length.is_finite() && per_length > 0.0)?;
        }
        own &= self.owns(ask.column);
        if own { self.verify_column(ask.column) } else { Err(EvidenceError::Foreign) }
    }

    /// Returns what a metre of the column presses, by the inputs as given.
    fn press(&self, column: Column) -> f64 {
        let inputs: Vec<f64> = self.inputs.iter().map(|input| input.value).collect();
        let mut form = Form::default();
        column.press(&mut form, 1.0, &[]);
        form.value(&super::equation::Point { unknowns: &[], inputs: &inputs })
    }

    /// Returns the pascals that the display moves by over a metre of shown level.
    fn per_level(&self, ask: &Ask) -> f64 {
        match ask.rule {
            Rule::TrueAtZero => self.press(ask.column),
            Rule::TrueAtReference { shown, length, .. } => (shown / length).value,
        }
    }

    fn height(&self, fit: &Fit, shift: &Raw, column: Column) -> Estimate<Length> {
        let mut form = Form::default();
        column.press(&mut form, 1.0, &[]);
        let press = fit.function_of_inputs(self, &form);
        shift.over(&press).stated(self, Length::new::<meter>)
    }

    fn fitted(&self, fit: &Fit, sum: &[(f64, usize)]) -> Option<Estimate<Pressure>> {
        let mut form = Form::default();
        sum.iter().for_each(|(factor, unknown)| form.add(*factor, Var::Unknown(*unknown)));
        fit.estimate(self, &form).map(|raw| raw.stated(self, Pressure::new::<pascal>))
    }

    fn fitted_levels(&self, fit: &Fit) -> Vec<(LevelId, Estimate<Length>)> {
        let levels = self.unknowns.iter().enumerate().filter(|(_, unknown)| **unknown == Unknown::Level);
        levels
            .filter_map(|(place, _)| {
                let mut form = Form::default();
                form.add(1.0, Var::Unknown(place));
                let raw: Raw = fit.estimate(self, &form)?;
                Some((LevelId(place), raw.stated(self, Length::new::<meter>)))
            })
            .collect()
    }

    /// Returns the new total offset: what is carried plus the shift, as one result, since they share errors.
    fn total(&self, fit: &Fit, mut shift: Form, ask: &Ask) -> Option<Estimate<Pressure>> {
        self.fitted(fit, &[(1.0, ask.offset.0)])?;
        shift.add(1.0, Var::Unknown(ask.offset.0));
        fit.estimate(self, &shift).map(|raw| raw.stated(self, Pressure::new::<pascal>))
    }
}
