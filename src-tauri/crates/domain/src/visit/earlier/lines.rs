//! What the past says, line by line: for the working of a record and for the screens.

use uom::si::ratio::percent;

use super::causes::{self, Likely};
use super::{Past, Plan};
use crate::history::{Act, Drift, Fresh, NotJudged, OffsetStep};
use crate::quantity::print_decimal;
use crate::visit::{Show, WorkLine, date};

fn line(what: &str, how: impl Into<String>, value: impl Into<String>) -> WorkLine {
    WorkLine { what: what.into(), how: how.into(), value: value.into() }
}

fn cause_line(what: &str, likely: Likely) -> WorkLine {
    line(what, format!("to tell: {}", likely.apart), likely.causes)
}

impl Past {
    /// Returns the drift, the steps and the next interval in words, with how each was found. Nothing where no
    /// earlier visit is known.
    #[must_use]
    pub fn lines(&self, show: &Show<'_>) -> Vec<WorkLine> {
        let mounting = show.mounting();
        if self.visits.is_empty() {
            return Vec::new();
        }
        let mut lines: Vec<WorkLine> = self.anew().into_iter().collect();
        lines.push(match &self.history.drift {
            Ok(drift) => self.drift_line(drift, show),
            Err(why) => line("drift of the standing offset", why.to_string(), "not judged"),
        });
        let drifts = causes::of_drift(mounting, &self.history);
        lines.extend(drifts.map(|likely| cause_line("likely causes of the drift", likely)));
        for step in &self.history.steps {
            lines.push(self.step_line(step, show));
            let stepped = causes::of_step(mounting, &self.history, step);
            lines.extend(stepped.map(|likely| cause_line("likely causes of the step", likely)));
        }
        match &self.plan {
            Ok(plan) => lines.extend(plan_lines(plan)),
            Err(why) => lines.push(line("next interval", why.to_string(), "not judged")),
        }
        lines
    }

    fn anew(&self) -> Option<WorkLine> {
        let why = match self.history.fresh? {
            Fresh::UnitChanged => "another unit was fitted",
            Fresh::Moved => "the transmitter was moved",
        };
        let from = self.visit(self.history.since);
        let from = from.map_or_else(|| "with the first visit to it".to_owned(), |visit| visit.date.clone());
        Some(line("history begins", why, from))
    }

    fn drift_line(&self, drift: &Drift, show: &Show<'_>) -> WorkLine {
        let used = self.used();
        let shows = if drift.shows() { "" } else { "; no drift shows beyond its uncertainty" };
        let scatter = drift
            .scatter
            .map_or_else(String::new, |scatter| format!(", standing {} about it", show.uncertainty(scatter)));
        line(
            "drift of the standing offset",
            format!(
                "line through {used} visits at one density, weighted by their uncertainties{scatter}; k = {}{shows}",
                print_decimal(drift.coverage, 2)
            ),
            format!(
                "{} a year ± {} (95\u{a0}%)",
                show.change(drift.per_year),
                show.uncertainty(drift.expanded)
            ),
        )
    }

    fn step_line(&self, step: &OffsetStep, show: &Show<'_>) -> WorkLine {
        let before = self.visit(step.before_visit).map_or("", |visit| visit.date.as_str());
        line(
            "step of the standing offset",
            format!(
                "before the visit of {before}; no move and no other unit on record explains it; chance alone makes one so large in at most {} % of histories",
                print_decimal((step.chance * 100.0).max(0.001), 3)
            ),
            format!("{} ± {} (95\u{a0}%)", show.change(step.size), show.uncertainty(step.expanded)),
        )
    }
}

fn plan_lines(plan: &Plan) -> Vec<WorkLine> {
    let share = print_decimal(plan.next.ratio.get::<percent>(), 0);
    let act = match plan.next.act {
        Act::Extend => "at most 80 %, so longer",
        Act::Keep => "within it, so kept",
        Act::Reduce => "beyond it, so shorter",
        Act::Begin => return begun_lines(plan),
    };
    let (from, to) = (print_decimal(plan.interval.0, 1), print_decimal(plan.next.next.0, 1));
    let how = format!(
        "error as found {share} % of the tolerance: {act}; {from} months become {to} (staircase after ILAC-G24; its factors are ours)"
    );
    let mut lines = vec![line("next interval", how, format!("{to} months"))];
    if let Some(reaches) = plan.reaches {
        lines.push(line(
            "drift reaches the tolerance",
            "by the line, from the offset in force",
            date(reaches),
        ));
    }
    let how = if plan.by_drift() {
        "the drift, before the interval is over"
    } else {
        "the interval from the last visit"
    };
    lines.push(line("next visit due", how, date(plan.due)));
    lines
}

fn begun_lines(plan: &Plan) -> Vec<WorkLine> {
    let months = print_decimal(plan.interval.0, 1);
    let how = "the first visit since the history began: the interval in force, neither longer nor shorter";
    vec![
        line("next interval", how, format!("{months} months")),
        line("next visit due", "the interval from this visit", date(plan.due)),
    ]
}

/// Tells whether a reason not to judge is about the data rather than about their number.
pub(super) fn contradicts(why: &NotJudged) -> bool {
    matches!(why, NotJudged::OutOfOrder { .. } | NotJudged::OneTime | NotJudged::NotANumber { .. })
}
