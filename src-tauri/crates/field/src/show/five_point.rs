//! The five-point check on the screen, and in what is read over.

use domain::visit::{
    Ask, Assessment, Draft, FivePoint, HEADING_FOUND, HEADING_LEFT, PointRow, Spot, Step, When, WorkLine,
    belongs_to_check,
};

use super::{fields, shift};
use crate::view::{AppliedOffer, CheckView, FieldView, FivePointView, PointView, ReviewLine, ReviewPart};

/// Returns the check of a step, and leaves the other questions.
pub(super) fn apart(asked: Vec<Ask>) -> (Vec<Ask>, Vec<Ask>) {
    asked.into_iter().partition(|ask| belongs_to_check(ask.spot.key))
}

/// Returns the check of a step, where it asks for one.
pub(super) fn five_point(draft: &Draft, assessment: &Assessment, asked: &[Ask]) -> Option<FivePointView> {
    let when = if draft.step == Step::AsLeft { When::Left } else { When::Found };
    let check = if when == When::Left { &assessment.check_left } else { &assessment.check_found };
    let keys = when.keys();
    let of_row = |ask: &&Ask| [keys.applied, keys.display, keys.current].contains(&ask.spot.key);
    let setup: Vec<Ask> = asked.iter().filter(|ask| !of_row(ask)).cloned().collect();
    let points = check.iter().flat_map(|check| {
        check.rows.iter().map(|row| {
            let own: Vec<Ask> =
                asked.iter().filter(of_row).filter(|ask| ask.spot.row == row.row).cloned().collect();
            point(check, row, fields::fields(draft, assessment, &own), offer(draft, assessment, check, row))
        })
    });
    let view = FivePointView {
        fields: fields::fields(draft, assessment, &setup),
        points: points.collect(),
        checks: check.iter().flat_map(|check| checks(draft, assessment, check)).collect(),
    };
    (!asked.is_empty()).then_some(view)
}

fn point(
    check: &FivePoint,
    row: &PointRow,
    fields: Vec<FieldView>,
    offer: Option<AppliedOffer>,
) -> PointView {
    PointView { row: row.row, at: check.at(row), offer, fields, says: check.says(row) }
}

fn offer(draft: &Draft, assessment: &Assessment, check: &FivePoint, row: &PointRow) -> Option<AppliedOffer> {
    let spot = Spot::row(check.when.keys().applied, row.row);
    if draft.answers.get(spot).is_some() {
        return None;
    }
    let (text, unit) = check.to_apply(draft, assessment.conditions.gradient, row)?;
    Some(AppliedOffer { label: format!("{text} {unit}"), text })
}

fn checks(draft: &Draft, assessment: &Assessment, check: &FivePoint) -> Vec<CheckView> {
    let working = assessment.working(draft);
    let heading = heading(check.when);
    let view = |checked: &domain::visit::Checked| {
        let start = format!("{heading}, {}: ", checked.by());
        let lines = working.iter().filter_map(|line| {
            let what = line.what.strip_prefix(&start)?;
            let told = what != "verdict" && !what.ends_with("up") && !what.ends_with("down");
            told.then(|| WorkLine { what: what.to_owned(), ..line.clone() })
        });
        CheckView {
            by: checked.by().into(),
            verdict: checked.verdict(),
            rule: checked.rule(),
            lines: lines.map(|line| shift::work(&line)).collect(),
        }
    };
    check.checks.iter().map(view).collect()
}

fn heading(when: When) -> &'static str {
    match when {
        When::Found => HEADING_FOUND,
        When::Left => HEADING_LEFT,
    }
}

/// Returns the check as it is read over, from the lines of the working: before signing and for ever after.
pub(super) fn review(working: &[WorkLine], step: Step) -> Option<ReviewPart> {
    let (heading, title) = match step {
        Step::AsFound => (HEADING_FOUND, "Five-point check as found"),
        Step::AsLeft => (HEADING_LEFT, "Five-point check as left"),
        _ => return None,
    };
    let own = working.iter().filter_map(|line| Some((line.what.strip_prefix(heading)?, line)));
    let lines: Vec<ReviewLine> = own
        .map(|(what, line)| ReviewLine {
            what: what.trim_start_matches(", ").to_owned(),
            value: line.value.clone(),
            echo: line.how.clone(),
        })
        .collect();
    (!lines.is_empty()).then(|| ReviewPart { title: title.into(), lines })
}
