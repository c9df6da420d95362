//! The step on the screen.

use domain::visit::{Assessment, Draft, LevelTold, Missing, Place, Show, Step, check_cautions, safety};

use super::{
    fields, five_point, history, left, messages, names, next_best, pieces, plate, review, shift, sketch,
    slip, together, verdict,
};
use crate::message;
use crate::view::{Grade, LeadsTo, LeftView, Level3, Message, MissingView, NextView, StepView};

/// Returns the step a draft stands at.
pub(super) fn step(draft: &Draft, assessment: &Assessment) -> StepView {
    let step = draft.step;
    let timing = pieces::timing(step);
    let with_shift = matches!(step, Step::Shift | Step::AsLeft);
    let (check, asked) = five_point::apart(assessment.asks(draft, step));
    StepView {
        step,
        cautions: cautions(draft, assessment),
        plate: plate::plate(draft),
        fields: fields::fields(draft, assessment, &asked),
        together: together::together(draft, assessment),
        pieces: timing.map_or_else(Vec::new, |timing| pieces::pieces(draft, assessment, timing)),
        offers: timing.map_or_else(Vec::new, |timing| pieces::offers(draft, assessment, timing)),
        levels: levels(assessment, step),
        measure_next: next_best::measure_next(draft, assessment),
        sketch: matches!(step, Step::Evidence | Step::Shift | Step::AsLeft)
            .then(|| sketch::sketch(assessment, step == Step::AsLeft)),
        shift: with_shift.then(|| shift::shift(draft, assessment)),
        five_point: five_point::five_point(draft, assessment, &check),
        left: with_shift.then(|| left_over(assessment)).flatten(),
        verdict: matches!(step, Step::AsLeft | Step::Sign).then(|| verdict::verdict(assessment)),
        history: if step == Step::Sign { history::with_today(draft, assessment) } else { None },
        review: if step == Step::Sign { review::draft(draft, assessment) } else { Vec::new() },
        slips: slip::slips(draft, assessment, step),
        messages: said(draft, assessment, step),
        next: next(draft, assessment, step),
    }
}

fn left_over(assessment: &Assessment) -> Option<LeftView> {
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    assessment.after.as_ref().map(|of| left::left(of, &assessment.known, &show))
}

/// The hazards are said before a visit is begun and again where it is made safe: said on every screen, nobody reads
/// them.
fn cautions(draft: &Draft, assessment: &Assessment) -> Vec<Message> {
    let said = match draft.step {
        Step::MakeSafe => safety::cautions(&draft.instrument),
        step => check_cautions(draft, &assessment.known, &assessment.conditions, step),
    };
    draft.safety_again().iter().chain(&said).map(message::plain).collect()
}

fn levels(assessment: &Assessment, step: Step) -> Vec<Level3> {
    let told = match step {
        Step::AsFound => &assessment.found,
        Step::AsLeft => &assessment.levels_left,
        _ => return Vec::new(),
    };
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    told.iter().map(|told| level(told, &show)).collect()
}

fn level(told: &LevelTold, show: &Show<'_>) -> Level3 {
    Level3 {
        who: names::teller(told.teller).into(),
        read: told.read.clone(),
        level: told.level.map_or_else(String::new, |level| show.length(level)),
        says: told.says.clone(),
    }
}

/// What is said on the step. The Shift screen shows its own warnings, so they are not said twice there.
fn said(draft: &Draft, assessment: &Assessment, step: Step) -> Vec<Message> {
    if step == Step::Shift {
        return Vec::new();
    }
    let told = |code: &str| assessment.slips.iter().any(|slip| slip.doubt.code() == code);
    let remarks =
        assessment.remarks(step).iter().filter(|remark| step == Step::AsLeft || !told(&remark.code));
    let mut said: Vec<Message> = remarks.map(|remark| messages::with_reason(draft, remark)).collect();
    if step == Step::AsFound
        && let Some(place) = &assessment.head_place
    {
        let text = format!(
            "By the numbers: standing head taken out {}. {}",
            names::choice(place.choice),
            place.reasons.join(" ")
        );
        said.push(Message {
            code: "head.suggestion".into(),
            grade: Grade::Note,
            text,
            remedy: String::new(),
            reason: None,
        });
    }
    said
}

fn next(draft: &Draft, assessment: &Assessment, step: Step) -> NextView {
    let missing = assessment.missing(step);
    let shown = missing.iter().map(|one| missed(draft, one)).collect();
    NextView { to: step.next(), ready: missing.is_empty(), missing: shown }
}

fn missed(draft: &Draft, missing: &Missing) -> MissingView {
    let leads = match &missing.place {
        Place::Question { spot, label } => {
            LeadsTo::Question { key: spot.key, piece: spot.piece.0, row: spot.row, label: label.clone() }
        }
        Place::Step(step) => LeadsTo::Step { step: *step },
        Place::Here => LeadsTo::Here,
    };
    MissingView { message: messages::with_reason(draft, &missing.remark), leads }
}
