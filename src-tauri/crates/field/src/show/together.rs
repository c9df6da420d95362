//! What may be stated by one touch, on the screen.

use domain::visit::{Assessment, Choice, Draft, Moment, Stated, assess};

use crate::view::{StatedAnswer, StatedView, TogetherView};

/// Returns what may be stated on the step shown.
pub(super) fn together(draft: &Draft, assessment: &Assessment) -> Option<TogetherView> {
    let stated = assessment.together(draft, draft.step);
    if stated.is_empty() {
        return None;
    }
    let leads_to = draft.step.next().filter(|_| completes(draft, &stated));
    Some(TogetherView { lines: stated.into_iter().map(line).collect(), leads_to })
}

/// Tells whether nothing is missing on the step once it is stated.
fn completes(draft: &Draft, stated: &[Stated]) -> bool {
    let mut then = draft.clone();
    for line in stated {
        then.answers.put(line.spot, line.text.clone(), Moment(draft.begun.0));
    }
    assess(&then).is_ok_and(|assessment| assessment.complete(draft.step))
}

fn line(stated: Stated) -> StatedView {
    let choice = Choice::from_word(&stated.text);
    let answer = StatedAnswer { key: stated.spot.key, row: stated.spot.row, text: stated.text };
    StatedView { answer, label: stated.label, choice }
}
