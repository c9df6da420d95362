//! What another measurement would do to the uncertainty of the shift, before anybody makes it.
//!
//! The measurement is supposed in a copy of the case with its ordinary uncertainty. What it will *read* is not known, but
//! the uncertainty hardly depends on that: the copy is linearised once, where the evidence so far stands, and not
//! iterated. So a dozen proposals cost about as much as the fit itself.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::case::Unknown;
use super::check::could_tell;
use super::equation::{Form, Role, Var};
use super::fit::Fit;
use super::{Ask, Case, EvidenceError};

/// Where the evidence so far stands.
pub struct Outlook<'c> {
    case: &'c Case,
    ask: &'c Ask,
    now: Option<Pressure>,
    level: Option<Length>,
    about: Length,
    unknowns: Vec<f64>,
    inputs: Vec<f64>,
}

impl Case {
    /// Looks out from the evidence so far.
    ///
    /// # Errors
    ///
    /// As [`Case::reconcile`].
    pub fn outlook<'c>(&'c self, ask: &'c Ask) -> Result<Outlook<'c>, EvidenceError> {
        self.verify()?;
        self.verify_ask(ask)?;
        let form = self.shift_form(ask);
        let measured = Fit::of(self, &self.those(|role| role != Role::Allowance))?;
        let (fit, raw) = match measured.estimate(self, &form) {
            Some(raw) => (measured, Some(raw)),
            None => {
                let everything = Fit::of(self, &self.those(|_| true))?;
                let raw = everything.estimate(self, &form);
                (everything, raw)
            }
        };
        let stated = raw.map(|raw| raw.stated(self, Pressure::new::<pascal>).expanded);
        let point = fit.point();
        let (unknowns, inputs) = (point.unknowns.to_vec(), point.inputs.to_vec());
        let level = self.some_level(&fit);
        let about = level.unwrap_or_default();
        Ok(Outlook { case: self, ask, now: stated, level, about, unknowns, inputs })
    }

    fn some_level(&self, fit: &Fit) -> Option<Length> {
        let levels = self.unknowns.iter().enumerate().filter(|(_, unknown)| **unknown == Unknown::Level);
        let mut found = levels.filter_map(|(place, _)| {
            let mut form = Form::default();
            form.add(1.0, Var::Unknown(place));
            fit.estimate(self, &form).map(|raw| raw.value)
        });
        found.next_back().map(Length::new::<meter>)
    }
}

impl Outlook<'_> {
    /// Returns the expanded uncertainty of the shift as it is, where the shift is determined.
    #[must_use]
    pub fn now(&self) -> Option<Pressure> {
        self.now
    }

    /// Returns a level that follows from the evidence, the latest one added, if any does.
    #[must_use]
    pub fn level(&self) -> Option<Length> {
        self.level
    }

    /// Says where a level that is only supposed may well stand: what density does to it depends on how high it is. Until
    /// then it stands where the evidence puts the latest one, or at zero.
    pub fn stands_about(&mut self, level: Length) {
        self.about = level;
    }

    /// Returns the expanded uncertainty that the shift would have with what `suppose` adds; none where it would still
    /// not be determined.
    pub fn with(&self, suppose: impl FnOnce(&mut Case)) -> Option<Pressure> {
        let supposed = self.supposed(suppose);
        let form = supposed.shift_form(self.ask);
        let fit = self.fit(&supposed, |role| role != Role::Allowance)?;
        let raw = fit.estimate(&supposed, &form).or_else(|| {
            let everything = self.fit(&supposed, |_| true)?;
            everything.estimate(&supposed, &form)
        })?;
        Some(raw.stated(&supposed, Pressure::new::<pascal>).expanded)
    }

    /// Tells whether, with what `suppose` adds, the evidence could tell which of two that disagree is wrong.
    pub fn settles(&self, suppose: impl FnOnce(&mut Case)) -> bool {
        let supposed = self.supposed(suppose);
        self.fit(&supposed, |_| true).is_some_and(|fit| could_tell(&fit))
    }

    fn supposed(&self, suppose: impl FnOnce(&mut Case)) -> Case {
        let mut supposed = self.case.clone();
        suppose(&mut supposed);
        supposed
    }

    fn fit(&self, supposed: &Case, which: impl Fn(Role) -> bool) -> Option<Fit> {
        let mut unknowns = self.unknowns.clone();
        let level = self.about.get::<meter>();
        unknowns.extend(supposed.unknowns.iter().skip(unknowns.len()).map(|unknown| match unknown {
            Unknown::Level => level,
            _ => 0.0,
        }));
        let mut inputs = self.inputs.clone();
        inputs.extend(supposed.inputs.iter().skip(inputs.len()).map(|input| input.value));
        Fit::at(supposed, &supposed.those(which), unknowns, inputs).ok()
    }
}
