//! From a draft that has all it needs to the visit that is signed.

use std::collections::BTreeMap;

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::{
    Answered, Assessment, Draft, Entry, Finished, Grade, MODEL, Measured, Past, Remark, ResultKey,
    ResultLine, Said, Show, Spot, Step, Takes, Value, after_trim, five, flow, piece_asks, working,
};
use crate::evidence::LevelError;
use crate::quantity::Decimal;

/// Degrees of freedom beyond this are as good as infinite, and are written as this.
const MOST_FREEDOM: f64 = 1e6;

impl Assessment {
    /// Returns the visit as it is signed, or what it still needs.
    ///
    /// # Errors
    ///
    /// What is missing on the Sign step: the visit may not be signed yet.
    pub fn finish(&self, draft: &Draft) -> Result<Finished, Vec<Remark>> {
        let missing = self.missing(Step::Sign);
        if !missing.is_empty() {
            return Err(missing.iter().map(|one| one.remark.clone()).collect());
        }
        Ok(Finished {
            model: MODEL,
            instrument: draft.instrument.clone(),
            begun: draft.begun,
            pieces: draft.pieces.clone(),
            answers: self.answered(draft),
            results: self.results(draft),
            verdict: self.left.verdict.clone(),
            assumptions: self.shift.assumptions.iter().map(Remark::said).collect(),
            warnings: self.warnings(draft),
            working: self.working(draft),
        })
    }

    /// Returns the working, line by line.
    #[must_use]
    pub fn working(&self, draft: &Draft) -> Vec<super::WorkLine> {
        working::working(draft, self)
    }

    /// Returns the trim rule in force, in words.
    #[must_use]
    pub fn rule(&self, draft: &Draft) -> String {
        working::rule(draft, self)
    }

    fn answered(&self, draft: &Draft) -> Vec<Answered> {
        let takes = asked(self, draft);
        let answers = draft.answers.iter().filter(|(_, answer)| !answer.text.is_empty());
        let answered = answers.map(|(spot, answer)| Answered {
            spot,
            text: answer.text.clone(),
            at: answer.at,
            value: self.entries.at(spot).and_then(|entry| measured(entry, takes.get(&spot))),
        });
        answered.collect()
    }

    fn warnings(&self, draft: &Draft) -> Vec<Said> {
        let remarks = self.everything_said(draft);
        let mut warnings: Vec<Said> = Vec::new();
        for said in remarks.iter().filter(|remark| remark.grade != Grade::Danger).map(Remark::said) {
            if !warnings.contains(&said) {
                warnings.push(said);
            }
        }
        warnings
    }

    /// Returns the alarms: everything said in the visit, of its steps, its pieces and what was typed, that claims something
    /// to be wrong.
    #[must_use]
    pub fn alarms(&self, draft: &Draft) -> Vec<Remark> {
        let typed = self.entries.iter().filter_map(|(_, entry)| entry.problem.clone());
        let mut alarms: Vec<Remark> = Vec::new();
        for remark in self.everything_said(draft).into_iter().chain(typed) {
            if remark.claim.is_alarm() && !alarms.contains(&remark) {
                alarms.push(remark);
            }
        }
        alarms
    }

    fn everything_said(&self, draft: &Draft) -> Vec<Remark> {
        let steps = Step::ALL.into_iter().flat_map(|step| self.remarks(step));
        let pieces = draft.pieces.iter().flat_map(|piece| self.piece_remarks(piece.id));
        let show = Show::new(&self.known, self.conditions.gradient);
        let after = self.after.iter().flat_map(|after| after.remarks(&self.known, &show));
        steps.chain(pieces).chain(&self.shift.remarks).cloned().chain(after).collect()
    }

    /// Returns the past with this visit at its end.
    #[must_use]
    pub fn past(&self, draft: &Draft) -> Past {
        Past::with_today(draft, self, &self.results_of_the_day(draft))
    }

    /// Returns what was worked out, as records keep it.
    #[must_use]
    pub fn results(&self, draft: &Draft) -> Vec<ResultLine> {
        let mut lines = self.results_of_the_day(draft);
        let past = Past::with_today(draft, self, &lines);
        lines.extend(past.results());
        lines
    }

    fn results_of_the_day(&self, draft: &Draft) -> Vec<ResultLine> {
        let mut lines = Vec::new();
        let mut put = |key, value: f64, unit: &str| {
            if let Some(value) = Decimal::rounded(value) {
                lines.push(ResultLine { key, value: Measured { value, unit: unit.to_owned() } });
            }
        };
        let conditions = &self.conditions;
        put(ResultKey::Density, conditions.density.get::<kilogram_per_cubic_meter>(), "kg/m3");
        put(ResultKey::AirDensity, conditions.air.get::<kilogram_per_cubic_meter>(), "kg/m3");
        put(ResultKey::Gravity, conditions.gravity.get::<meter_per_second_squared>(), "m/s2");
        for (key, density) in conditions.other_densities() {
            put(key, density.get::<kilogram_per_cubic_meter>(), "kg/m3");
        }
        if conditions.is_more_than_a_riser() {
            put(ResultKey::ExpectedHead, conditions.installed.standing_head().get::<pascal>(), "Pa");
        }
        let pa = |pressure: Pressure| pressure.get::<pascal>();
        if let Some(result) = self.shift.result.as_deref() {
            put(ResultKey::From, pa(result.from), "Pa");
            put(ResultKey::To, pa(result.to), "Pa");
            put(ResultKey::Shift, pa(result.shift.value), "Pa");
            put(ResultKey::ShiftUncertainty, pa(result.shift.expanded), "Pa");
            put(ResultKey::Coverage, result.shift.coverage, "1");
            put(ResultKey::DegreesOfFreedom, result.shift.freedom.min(MOST_FREEDOM), "1");
            if let Some(total) = &result.total {
                put(ResultKey::NewTotal, pa(total.value), "Pa");
                put(ResultKey::TotalUncertainty, pa(total.standard), "Pa");
            }
            if let Some(head) = &result.head {
                put(ResultKey::StandingHead, pa(head.value), "Pa");
            }
        }
        if let Some(level) = self.shift.level {
            put(ResultKey::Level, level.get::<meter>(), "m");
        }
        let mut error = |error: &Option<LevelError>, key, percent| {
            if let Some(error) = error {
                put(key, error.value.get::<meter>(), "m");
                put(percent, self.known.level.percent(error.value), "%");
            }
        };
        error(&self.left.found, ResultKey::ErrorAsFound, ResultKey::PercentAsFound);
        error(&self.left.left, ResultKey::ErrorAsLeft, ResultKey::PercentAsLeft);
        let last = self.left.left.as_ref().or(self.left.found.as_ref());
        if let Some(last) = last {
            put(ResultKey::ErrorUncertainty, metres(last.expanded), "m");
        }
        put(ResultKey::Tolerance, metres(self.known.level.tolerance), "m");
        for check in [&self.check_found, &self.check_left].into_iter().flatten() {
            for (key, value, unit) in five::results(check) {
                put(key, value, unit);
            }
        }
        for (key, value, unit) in flow::results(draft, &self.known, conditions, &self.entries) {
            put(key, value, unit);
        }
        for (key, value, unit) in self.after.iter().flat_map(after_trim::results) {
            put(key, value, unit);
        }
        lines
    }
}

fn metres(length: Length) -> f64 {
    length.get::<meter>()
}

/// What every spot takes, for the unit its number is written with.
fn asked(assessment: &Assessment, draft: &Draft) -> BTreeMap<Spot, Takes> {
    let steps = Step::ALL.into_iter().flat_map(|step| assessment.asks(draft, step));
    let pieces = draft.pieces.iter().flat_map(|piece| piece_asks(draft, piece));
    steps.chain(pieces).map(|ask| (ask.spot, ask.takes)).collect()
}

fn measured(entry: &Entry, takes: Option<&Takes>) -> Option<Measured> {
    let (value, unit) = match entry.value? {
        Value::Length(length) => (length.get::<meter>(), "m"),
        Value::Reading { pressure, .. } => (pressure.get::<pascal>(), "Pa"),
        Value::Current(current) => (current, "mA"),
        Value::Temperature(temperature) => (temperature.get::<degree_celsius>(), "degC"),
        Value::Number(number) => match takes {
            Some(Takes::Number(unit)) => (number, *unit),
            _ => (number, "1"),
        },
    };
    Some(Measured { value: Decimal::rounded(value)?, unit: unit.to_owned() })
}
