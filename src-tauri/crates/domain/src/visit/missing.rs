//! What a step still needs before it can be left, and what the whole visit needs before it may be signed.

use super::assess::Assessment;
use super::{Advised, Choice, Draft, Grade, Key, Remark, Spot, Step, Takes, Timing, piece_asks};

/// Something that a step still needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// What is said of it.
    pub remark: Remark,
    /// Where it is mended.
    pub place: Place,
}

/// Where something that is missing is mended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// At a question of the step.
    Question {
        /// Which.
        spot: Spot,
        /// Its label where it is data (a safety item); empty otherwise.
        label: String,
    },
    /// On another step.
    Step(Step),
    /// On the step, at no single question.
    Here,
}

impl Missing {
    fn here(remark: Remark) -> Missing {
        Missing { remark, place: Place::Here }
    }
}

/// Returns what a step still needs, in the order of the screen.
pub(super) fn missing(draft: &Draft, assessment: &Assessment, step: Step) -> Vec<Missing> {
    let mut missing = Vec::new();
    let timing = if step == Step::AsLeft { Timing::After } else { Timing::Before };
    let asked = assessment.asks(draft, step);
    let pieces = draft.pieces.iter().filter(|piece| piece.timing == timing);
    let with_pieces = matches!(step, Step::Evidence | Step::AsLeft);
    let pieces = pieces.filter(|_| with_pieces);
    for ask in asked.into_iter().chain(pieces.clone().flat_map(|piece| piece_asks(draft, piece))) {
        missing.extend(unanswered(draft, assessment, &ask));
    }
    let remarks =
        assessment.remarks(step).iter().chain(pieces.flat_map(|piece| assessment.piece_remarks(piece.id)));
    for remark in remarks {
        missing.extend(unsettled(draft, remark));
    }
    missing.extend(own(draft, assessment, step));
    missing
}

fn unanswered(draft: &Draft, assessment: &Assessment, ask: &super::Ask) -> Option<Missing> {
    let answered = draft.answers.get(ask.spot).is_some();
    let entry = assessment.entries.at(ask.spot);
    let readable = match &ask.takes {
        Takes::Text(_) => answered,
        Takes::Choice(options) => {
            let text = draft.answers.text(ask.spot);
            options.iter().any(|option| option.value == text)
        }
        _ => entry.is_some_and(|entry| entry.value.is_some()),
    };
    if readable || (!answered && !ask.required) {
        return None;
    }
    let problem = entry.and_then(|entry| entry.problem.as_ref());
    let remark = match problem {
        _ if !answered => Remark::refusal("missing.answer", "Not answered yet.", "Go there and answer it."),
        Some(problem) => Remark::refusal("missing.unreadable", &problem.text, &problem.remedy),
        None => Remark::refusal("missing.unreadable", "The answer cannot be read.", "Go there and mend it."),
    };
    Some(Missing { remark, place: Place::Question { spot: ask.spot, label: ask.label.clone() } })
}

/// A refusal stands in the way; a doubt does until a reason is given.
fn unsettled(draft: &Draft, remark: &Remark) -> Option<Missing> {
    if remark.grade == Grade::Refusal {
        return Some(Missing::here(remark.clone()));
    }
    let spot = remark.reason_spot()?;
    draft.answers.get(spot).is_none().then(|| Missing {
        remark: Remark::refusal(
            "missing.reason",
            format!("Give a reason for going on: {}", remark.text),
            "Go there and say why, or mend what is doubted.",
        ),
        place: Place::Question { spot, label: String::new() },
    })
}

fn own(draft: &Draft, assessment: &Assessment, step: Step) -> Vec<Missing> {
    match step {
        Step::Shift => shift(draft, assessment),
        Step::AsLeft => undecided(draft),
        Step::Sign => sign(draft, assessment),
        _ => Vec::new(),
    }
}

fn shift(draft: &Draft, assessment: &Assessment) -> Vec<Missing> {
    let trims = draft.answers.choice(Spot::of(Key::Decision)) == Some(Choice::Trim);
    let shift = &assessment.shift;
    let impossible = trims && (shift.result.is_none() || shift.advised == Advised::Blocked);
    let text = "No shift is given, so there is nothing to trim to.";
    impossible
        .then(|| {
            Missing::here(Remark::refusal(
                "shift.nothing_to_trim",
                text,
                "Bring what is missing, or leave the unit as it is.",
            ))
        })
        .into_iter()
        .collect()
}

fn undecided(draft: &Draft) -> Vec<Missing> {
    let decided = draft.answers.choice(Spot::of(Key::Decision)).is_some();
    let missing = || Missing {
        remark: Remark::refusal(
            "missing.decision",
            "Nothing is decided yet.",
            "Go back to Shift and decide.",
        ),
        place: Place::Step(Step::Shift),
    };
    (!decided).then(missing).into_iter().collect()
}

fn sign(draft: &Draft, assessment: &Assessment) -> Vec<Missing> {
    let before = Step::ALL.into_iter().filter(|step| *step != Step::Sign);
    let open = before.filter(|step| !missing(draft, assessment, *step).is_empty());
    open.map(|step| {
        let code = if step == Step::BackInService { "sign.back_in_service" } else { "sign.step_open" };
        let remark = Remark::refusal(
            code,
            format!("{} is not finished.", name(step)),
            "Go back to it, answer what is missing, or say why.",
        );
        Missing { remark, place: Place::Step(step) }
    })
    .collect()
}

/// The steps' names, as the job says them.
#[must_use]
pub fn name(step: Step) -> &'static str {
    match step {
        Step::Find => "Find",
        Step::MakeSafe => "Make safe",
        Step::AsFound => "As found",
        Step::Evidence => "Evidence",
        Step::Shift => "Shift",
        Step::AsLeft => "As left",
        Step::BackInService => "Back in service",
        Step::Sign => "Sign",
    }
}
