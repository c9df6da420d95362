//! Slips on the screen.

use domain::visit::{Assessment, Draft, Slip, SlipCause, Step};

use super::messages;
use crate::view::{CauseView, SlipView};

/// Returns the slips that are told on a step: those in a number that was typed there, and on Shift those the shift rests on.
pub(super) fn slips(draft: &Draft, assessment: &Assessment, step: Step) -> Vec<SlipView> {
    let here = |slip: &&Slip| slip.step == step || (step == Step::Shift && slip.of_the_shift());
    assessment.slips.iter().filter(here).map(|slip| slip_view(draft, slip)).collect()
}

fn slip_view(draft: &Draft, slip: &Slip) -> SlipView {
    let mut message = messages::with_reason(draft, &slip.remark());
    // The remark says it all in two sentences; here each part has a place of its own.
    message.text.clone_from(&slip.seen);
    message.remedy.clear();
    SlipView {
        message,
        expected: slip.expected.clone(),
        causes: slip.causes.iter().map(cause).collect(),
        apart: slip.apart.clone(),
    }
}

fn cause(cause: &SlipCause) -> CauseView {
    CauseView { what: cause.what.clone(), why: cause.why.clone(), tell: cause.tell.clone() }
}
