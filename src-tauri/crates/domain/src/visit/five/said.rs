//! What is said of a check: the verdict with its rule, the working, what to do about it.

use uom::si::f64::Ratio;
use uom::si::ratio::percent;

use super::checked::{Checked, FivePoint};
use super::rows::{PointRow, When};
use crate::evidence::Conformity;
use crate::quantity::print_decimal;
use crate::ranging::five_point::{FivePointError, Judgement, Run};
use crate::visit::{Claim, Doubt, Remark, Show, WorkLine};

/// What the working calls a check as found.
pub const HEADING_FOUND: &str = "five-point check as found";
/// What the working calls a check as left.
pub const HEADING_LEFT: &str = "five-point check as left";

impl When {
    fn heading(self) -> &'static str {
        match self {
            When::Found => HEADING_FOUND,
            When::Left => HEADING_LEFT,
        }
    }
}

/// Prints a part of the span with its sign: `-0.06 %`.
fn signed(part: Ratio) -> String {
    let text = print_decimal(part.get::<percent>(), 3);
    if text.starts_with('-') { format!("{text} %") } else { format!("+{text} %") }
}

fn plain(part: Ratio) -> String {
    format!("{} %", print_decimal(part.get::<percent>(), 3))
}

/// Prints where on the span something is: `50 %`, `24.7 %`.
fn place(part: Ratio) -> String {
    format!("{} %", print_decimal(libm::round(part.get::<percent>() * 10.0) / 10.0, 1).trim_end_matches(".0"))
}

fn way(run: Run) -> &'static str {
    match run {
        Run::Up => "up",
        Run::Down => "down",
    }
}

impl Checked {
    /// Returns what was checked, in a word or two.
    #[must_use]
    pub fn by(&self) -> &'static str {
        if self.by_current { "loop current" } else { "display" }
    }

    /// Returns the verdict in a sentence; while the source is not known yet, what is missing.
    #[must_use]
    pub fn verdict(&self) -> String {
        let worst = &self.findings.worst;
        let at =
            format!("{} of span at {} {}", signed(worst.error()), place(worst.applied()), way(worst.run()));
        let judged = match &self.judgement {
            None => "not judged, the source's uncertainty is not known".to_owned(),
            Some(Err(error)) => format!("not judged. {error}"),
            Some(Ok(judgement)) => match judgement.conformity {
                Some(conformity) => format!("{}{}", conformity.words(), self.how_sure(judgement)),
                None => format!("not judged, uncertainty too large{}", self.how_sure(judgement)),
            },
        };
        format!("By the {}: worst {at}; {judged}.", self.by())
    }

    /// Below a ratio of four a bare verdict says too little: the uncertainty stands beside it.
    fn how_sure(&self, judgement: &Judgement) -> String {
        if judgement.source_is_good() && judgement.conformity.is_some() {
            return String::new();
        }
        format!(
            " ({} at 95 %; the source is only {} times better than the tolerance)",
            format_args!("± {}", plain(judgement.expanded)),
            print_decimal(judgement.tur, 1)
        )
    }

    /// Returns the rule the verdict was reached by; empty while there is none.
    #[must_use]
    pub fn rule(&self) -> String {
        let (Some(quality), Some(Ok(judgement))) = (&self.quality, &self.judgement) else {
            return String::new();
        };
        if judgement.conformity.is_none() {
            return format!(
                "Rule: an uncertainty of {} (95 %) is not smaller than the tolerance of {} of span, so nothing is judged by it.",
                plain(judgement.expanded),
                plain(quality.tolerance)
            );
        }
        format!(
            "Rule (ILAC-G8:09/2019, guard band equal to the expanded uncertainty): within tolerance when no error is more than \
             {} - {} = {} of span; the uncertainty is expanded at 95 %, k = 2.",
            plain(quality.tolerance),
            plain(judgement.expanded),
            plain(judgement.acceptance)
        )
    }

    fn conformity(&self) -> Option<Conformity> {
        self.judgement.as_ref()?.as_ref().ok()?.conformity
    }

    /// The number that stands for the verdict in signed records.
    pub(super) fn verdict_number(&self) -> f64 {
        match self.conformity() {
            Some(Conformity::Pass) => 0.0,
            Some(Conformity::ConditionalPass) => 1.0,
            Some(Conformity::ConditionalFail) => 2.0,
            Some(Conformity::Fail) => 3.0,
            None => 4.0,
        }
    }
}

impl FivePoint {
    /// Returns what a row says: the error at its point, or why there is none.
    #[must_use]
    pub fn says(&self, row: &PointRow) -> Vec<String> {
        if let Some(outside) = &row.outside {
            return vec![outside.to_string()];
        }
        let told = |by: &str, point: &Option<Result<_, FivePointError>>| match point {
            Some(Ok(point)) => {
                let point: &crate::ranging::five_point::Point = point;
                Some(format!("{by} {}", signed(point.error())))
            }
            Some(Err(error)) => Some(error.to_string()),
            None => None,
        };
        [told("display", &row.display), told("loop current", &row.current)].into_iter().flatten().collect()
    }

    /// Returns where a row stands on the span and which way it goes: `50 % down`. An empty row says where the usual
    /// walk goes next.
    #[must_use]
    pub fn at(&self, row: &PointRow) -> String {
        match row.applied.or(row.wanted) {
            Some(part) => format!("{} {}", place(part), way(row.run)),
            None => "another".to_owned(),
        }
    }
}

/// Returns what is to be said about a check.
pub(in crate::visit) fn remarks(check: &FivePoint) -> Vec<Remark> {
    let mut said = Vec::new();
    let anything = check.rows.iter().any(|row| row.filled);
    if anything && check.offset.is_none() {
        let text = "The offset in force is not known, so what a pressure should show is not either: no error is told.";
        let remedy =
            "Read the offset on the unit, or enter the level that should be shown in place of the pressure.";
        said.push(Remark::warning(Claim::Nothing, "five_point.offset_unknown", text, remedy));
    }
    let poor =
        |checked: &&Checked| matches!(&checked.judgement, Some(Ok(judged)) if !judged.source_is_good());
    if let Some(Some(Ok(judged))) = check.checks.iter().find(poor).map(|checked| checked.judgement.as_ref()) {
        said.push(Remark::doubt(
            Doubt::SourceTooPoor,
            format!(
                "The source is {} times better than the tolerance; four times is wanted.",
                print_decimal(judged.tur, 1)
            ),
            "Use a better source, or say why this one; the guard band is made wider by its uncertainty.",
        ));
    }
    said.extend(check.checks.iter().filter_map(|checked| outside(check.when, checked)));
    said
}

fn outside(when: When, checked: &Checked) -> Option<Remark> {
    let outside = matches!(checked.conformity(), Some(Conformity::ConditionalFail | Conformity::Fail));
    let sure = checked.conformity() == Some(Conformity::Fail);
    // Within the guard band it is asked about, not claimed.
    let claim = if sure { Claim::UnitOff } else { Claim::Nothing };
    outside.then(|| match when {
        When::Found => Remark::warning(
            claim,
            "five_point.found_outside",
            format!("Five-point check as found. {}", checked.verdict()),
            "Tell the supervisor: what relied on this level since the last good record?",
        ),
        When::Left => {
            let said = Remark::doubt(
                Doubt::CheckOutside,
                format!("Five-point check as left. {}", checked.verdict()),
                "An offset trim mends a zero error only. Check range, span and linearity, or have the sensor changed; or say why it stays.",
            );
            Remark { claim, ..said }
        }
    })
}

/// Returns the working of a check, line by line.
pub(in crate::visit) fn working(check: &FivePoint, show: &Show<'_>) -> Vec<WorkLine> {
    check.checks.iter().flat_map(|checked| lines(check, checked, show)).collect()
}

fn lines(check: &FivePoint, checked: &Checked, show: &Show<'_>) -> Vec<WorkLine> {
    let by = checked.by();
    let line = |what: &str, how: String, value: String| WorkLine {
        what: format!("{}, {by}: {what}", check.when.heading()),
        how,
        value,
    };
    let found = &checked.findings;
    let mut lines: Vec<WorkLine> = check
        .rows
        .iter()
        .filter_map(|row| {
            let point = if checked.by_current { row.current.as_ref() } else { row.display.as_ref() };
            let (due, point) = (row.due?, point?.as_ref().ok()?);
            let due = if checked.by_current {
                let current = check.range.current(due).get::<uom::si::electric_current::milliampere>();
                format!("{} due, {} mA", show.reading(due), print_decimal(current, 3))
            } else {
                format!("{} due", show.reading(due))
            };
            Some(line(&check.at(row), due, signed(point.error())))
        })
        .collect();
    let mut told = |what: &str, how: &str, value: Option<Ratio>| {
        lines.extend(value.map(|value| line(what, how.to_owned(), signed(value))));
    };
    told("zero error", "mean error at 0 %", found.zero);
    told("span error", "mean error at 100 % less that at 0 %", found.span);
    if let Some(hysteresis) = found.hysteresis {
        let how = format!("down less up, largest at {}", place(hysteresis.at));
        lines.push(line("hysteresis", how, plain(hysteresis.size)));
    }
    let mut line_of = |what: &str, how: &str, value: Option<Ratio>| {
        lines.extend(value.map(|value| line(what, how.to_owned(), plain(value))));
    };
    line_of("terminal-based nonlinearity", "from the line through the means at 0 and 100 %", found.terminal);
    line_of("independent nonlinearity", "from the line nearest to all means", found.independent);
    lines.push(line("verdict", checked.rule(), checked.verdict()));
    lines
}
