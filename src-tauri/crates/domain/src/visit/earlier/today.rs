//! Today's visit behind the earlier ones.

use uom::si::pressure::pascal;

use super::{KnownEarlier, Past, known, told};
use crate::quantity::Decimal;
use crate::visit::{Assessment, Draft, Instrument, Known, Measured, ResultKey, ResultLine, date, moment};

/// Reads a visit's line as the row would.
fn read_line(draft: &Draft, known: &Known, results: &[ResultLine]) -> Option<KnownEarlier> {
    let line = told(draft, results, date(moment::day(draft)));
    let row = Instrument { earlier: vec![line], ..draft.instrument.clone() };
    known::read(&row, known).ok().and_then(|(mut visits, _)| visits.pop())
}

impl Past {
    /// Returns the results that a record keeps of it.
    #[must_use]
    pub fn results(&self) -> Vec<ResultLine> {
        let mut lines = Vec::new();
        let mut put = |key, value: f64, unit: &str| {
            if let Some(value) = Decimal::rounded(value) {
                lines.push(ResultLine { key, value: Measured { value, unit: unit.to_owned() } });
            }
        };
        if let Some(drift) = self.drift() {
            put(ResultKey::DriftPerYear, drift.per_year.get::<pascal>(), "Pa/a");
            put(ResultKey::DriftUncertainty, drift.expanded.get::<pascal>(), "Pa/a");
            #[allow(clippy::cast_precision_loss)] // Visits to one instrument.
            put(ResultKey::DriftVisits, self.used() as f64, "1");
        }
        if let Ok(plan) = &self.plan {
            put(ResultKey::NextInterval, plan.next.next.0, "month");
        }
        lines
    }

    /// Returns the past that a visit of the day closes.
    #[must_use]
    pub fn with_today(draft: &Draft, assessment: &Assessment, results: &[ResultLine]) -> Past {
        let today = read_line(draft, &assessment.known, results);
        Past::of(&assessment.known, today.as_ref(), assessment.conditions.gradient)
    }

    /// Returns the past of a signed visit by its own numbers, the visit itself at its end.
    #[must_use]
    pub fn of_signed(
        draft: &Draft,
        known: &Known,
        results: &[ResultLine],
        common: crate::head::Gradient,
    ) -> Past {
        let today = read_line(draft, known, results);
        Past::of(known, today.as_ref(), common)
    }
}
