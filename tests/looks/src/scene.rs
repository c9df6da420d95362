//! A visit up to the screen that is looked at.

use anyhow::{Context, Result};
use domain::visit::{Choice, Step};
use field::view::{Change, RecordView, StatedAnswer, VisitView};
use kit::{Act, Story};

use crate::still::Still;

/// What the clock moves by between two acts, in milliseconds.
const ACT: i64 = 20_000;

/// What somebody does on a visit, beside answering as usual what is as usual.
#[derive(Debug, Clone)]
pub(crate) struct Scene {
    tag: String,
    code: String,
    parts: Vec<(Step, Vec<Act>)>,
}

impl Scene {
    /// A visit to an instrument found in the list.
    pub(crate) fn at(tag: &str) -> Scene {
        Scene { tag: tag.to_owned(), code: String::new(), parts: Vec::new() }
    }

    /// The visit of a story.
    pub(crate) fn of(story: &Story) -> Scene {
        let parts = story.parts.iter().map(|part| (part.step, part.acts.clone())).collect();
        Scene { tag: story.tag.clone(), code: story.code.clone(), parts }
    }

    /// Does more in a step.
    pub(crate) fn and(mut self, step: Step, acts: Vec<Act>) -> Scene {
        self.parts.push((step, acts));
        self
    }

    /// Does this in a step, and nothing else.
    pub(crate) fn instead(mut self, step: Step, acts: Vec<Act>) -> Scene {
        self.parts.retain(|(at, _)| *at != step);
        self.and(step, acts)
    }

    /// Returns the screen of a step, once the acts of the steps up to it are done.
    pub(crate) fn seen_at(&self, step: Step) -> Result<VisitView> {
        self.play(&Still::ready()?, step)
    }

    /// Returns the record of the whole visit.
    pub(crate) fn signed(&self, still: &Still) -> Result<RecordView> {
        let id = self.play(still, Step::Sign)?.id;
        Ok(still.core.phone().visit_sign(&id)?)
    }

    /// Plays on a phone up to a step, with its acts.
    pub(crate) fn play(&self, still: &Still, until: Step) -> Result<VisitView> {
        let phone = still.core.phone();
        let by = if self.code.is_empty() { Choice::ByList } else { Choice::ByCode };
        let mut view = phone.visit_begin(&self.tag, by, &self.code)?;
        for step in Step::ALL.into_iter().filter(|step| *step <= until) {
            view = does(still, &view, &Change::Go { step })?;
            for act in self.parts.iter().filter(|(at, _)| *at == step).flat_map(|(_, acts)| acts) {
                view = does(still, &view, &act.change())?;
            }
            if step < until {
                view = with_reasons(still, as_usual(still, view)?)?;
                let next = &view.now.next;
                let stuck = || format!("{} cannot leave {step:?}: {:?}", self.tag, next.missing);
                anyhow::ensure!(view.now.step != step || next.ready, stuck());
            }
        }
        Ok(view)
    }
}

/// States what is as usual, where anything is.
fn as_usual(still: &Still, view: VisitView) -> Result<VisitView> {
    let Some(together) = view.now.together.clone() else { return Ok(view) };
    let answers: Vec<StatedAnswer> = together.lines.into_iter().map(|line| line.answer).collect();
    does(still, &view, &Change::Together { answers })
}

/// Gives a reason wherever one is wanted for going on.
fn with_reasons(still: &Still, mut view: VisitView) -> Result<VisitView> {
    let now = view.now.clone();
    let of_pieces = now.pieces.iter().flat_map(|piece| &piece.messages);
    let of_slips = now.slips.iter().map(|slip| &slip.message);
    let said = now.messages.iter().chain(of_pieces).chain(of_slips);
    for field in said.filter_map(|message| message.reason.as_deref()).filter(|field| field.text.is_empty()) {
        let text = "Looked at twice, it is so".to_owned();
        let change = Change::Answer { key: field.key, piece: field.piece, row: field.row, text };
        view = does(still, &view, &change)?;
    }
    Ok(view)
}

fn does(still: &Still, view: &VisitView, change: &Change) -> Result<VisitView> {
    still.clock.move_by(ACT);
    still.core.phone().visit_change(&view.id, change).with_context(|| format!("{} at {change:?}", view.tag))
}
