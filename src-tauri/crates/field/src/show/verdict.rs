//! The verdict on the screen.

use domain::evidence::LevelError;
use domain::visit::{Assessment, Show};

use crate::view::VerdictView;

/// Returns the verdict with the errors it rests on.
pub(super) fn verdict(assessment: &Assessment) -> VerdictView {
    let left = &assessment.left;
    let known = &assessment.known;
    let show = Show::new(known, assessment.conditions.gradient);
    let error = |error: &Option<LevelError>| {
        error.as_ref().map_or_else(String::new, |error| {
            format!("{} ({:+.2} % of span)", show.signed(error.value), known.level.percent(error.value))
        })
    };
    let last = left.left.as_ref().or(left.found.as_ref());
    VerdictView {
        code: left.verdict.code.clone(),
        text: left.verdict.text.clone(),
        as_found: error(&left.found),
        as_left: error(&left.left),
        uncertainty: last
            .map_or_else(String::new, |error| format!("± {} (95\u{a0}%)", show.small(error.expanded))),
        tolerance: format!("± {}", show.small(known.level.tolerance)),
        rule: left.rule.clone(),
    }
}
