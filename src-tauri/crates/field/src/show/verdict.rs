//! The verdict on the screen.

use domain::evidence::LevelError;
use domain::visit::{Assessment, Said, Show};

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
        short: short(&left.verdict).into(),
        detail: detail(&left.verdict),
        text: left.verdict.text.clone(),
        as_found: error(&left.found),
        as_left: error(&left.left),
        uncertainty: last
            .map_or_else(String::new, |error| format!("± {} (95\u{a0}%)", show.small(error.expanded))),
        tolerance: format!("± {}", show.small(known.level.tolerance)),
        rule: left.rule.clone(),
    }
}

/// Returns a verdict in a few words; for a code that is not known here its first sentence.
pub(crate) fn short(verdict: &Said) -> &str {
    match verdict.code.as_str() {
        "within" => "Within tolerance",
        "within_doubtful" => "Within tolerance, but not surely",
        "outside_doubtful" => "Outside tolerance, but not surely",
        "outside" => "Outside tolerance",
        "trimmed_not_proved" => "Trimmed, not independently proved",
        "trim_missed" => "Not where the trim should have put it",
        "not_judged" | "not_determined" => "Not judged",
        "put_back" => "Put back as found",
        "open" => "Not decided yet",
        _ => verdict.text.split_inclusive(['.', ':']).next().unwrap_or_default().trim_end_matches(['.', ':']),
    }
}

/// Returns what a verdict says beyond its few words: the sentence as signed, without repeating them.
pub(super) fn detail(verdict: &Said) -> String {
    let text = verdict.text.as_str();
    let rest = text.strip_prefix(short(verdict)).filter(|rest| !rest.starts_with(char::is_alphanumeric));
    let rest = rest.map_or(text, |rest| rest.trim_start_matches(|c: char| ".:;, ".contains(c)));
    let mut letters = rest.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use domain::visit::Said;

    use super::{detail, short};

    fn read(code: &str, text: &str) -> (String, String) {
        let said = Said { code: code.into(), text: text.into() };
        (short(&said).to_owned(), detail(&said))
    }

    #[test]
    fn a_verdict_begins_with_a_few_words_and_says_nothing_twice() {
        let text = "Trimmed, not independently proved: the display agrees with its reference. Dip again.";
        let expected =
            ("Trimmed, not independently proved", "The display agrees with its reference. Dip again.");
        assert_eq!(read("trimmed_not_proved", text), (expected.0.into(), expected.1.into()));
        let text = "Left as found: within tolerance, with room for the uncertainty.";
        assert_eq!(read("within", text), ("Within tolerance".into(), text.into()));
        assert_eq!(read("open", "Not decided yet."), ("Not decided yet".into(), String::new()));
        assert_eq!(read("of_a_later_day", "Fine: so far."), ("Fine".into(), "So far.".into()));
    }
}
