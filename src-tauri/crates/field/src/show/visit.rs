//! The whole visit, with the step that is shown.

use domain::visit::{Assessment, Draft, Step};

use super::reminder::reminder;
use super::step::step;
use crate::Now;
use crate::view::{StepState, VisitView};

/// Returns a visit as the screen is given it.
pub(crate) fn visit(id: &str, draft: &Draft, assessment: &Assessment, saved: &str, now: Now) -> VisitView {
    VisitView {
        id: id.to_owned(),
        tag: draft.instrument.tag.clone(),
        service: draft.instrument.service.clone(),
        site: draft.instrument.site.name.clone(),
        steps: states(assessment),
        now: step(draft, assessment),
        saved: saved.to_owned(),
        photos: None,
        signing: None,
        reminder: reminder(draft, now),
    }
}

/// Any step can be gone to and come back to; what is missing on it is shown there, and signing checks them all.
fn states(assessment: &Assessment) -> Vec<StepState> {
    let state = |step: Step| StepState { step, complete: assessment.complete(step), open: true };
    Step::ALL.into_iter().map(state).collect()
}
