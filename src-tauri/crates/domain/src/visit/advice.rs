//! Whether to shift, by how much, and what stands before it.

use uom::si::f64::Length;

use super::builder::{Built, build};
use super::conditions::Conditions;
use super::entries::Entries;
use super::{
    Choice, Claim, Doubt, Draft, Highest, Key, Known, LevelTold, Moment, Piece, PieceId, PieceKind, Pressing,
    Remark, Show, Spot, Teller, Timing, after_trim, flow, levels, mounting, moving, vented,
};
use crate::evidence::{Advice, Agreement, LevelError, Outcome, Rate, Reconciled, Rule, WayOut, advise};
use crate::ranging::{HeadPlace, HeadQuestion, Judged, Judgement, LimitRule};

/// What the Shift step is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Advised {
    /// Trim it.
    Trim,
    /// Inside the adjust limit: do not adjust.
    DoNotAdjust,
    /// The evidence does not determine a shift.
    NotDetermined,
    /// Something stands before it.
    Blocked,
}

/// The shift with all that belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// What is advised.
    pub advised: Advised,
    /// The numbers, where the evidence determines them and nothing stands before them.
    pub result: Option<Box<Reconciled>>,
    /// The least error worth adjusting.
    pub adjust_limit: Option<Length>,
    /// When the display that the trim starts from was read.
    pub read_at: Option<Moment>,
    /// The level the evidence speaks of.
    pub level: Option<Length>,
    /// How fast the level moves, where the display tells it beyond doubt.
    pub rate: Option<Rate>,
    /// True where the display is made true at the referenced level, false where at the tank's zero.
    pub at_reference: bool,
    /// The pieces behind the references, in their order.
    pub pieces: Vec<PieceId>,
    /// Ways to a shift where none is determined, best first.
    pub ways_out: Vec<WayOut>,
    /// Warnings and refusals.
    pub remarks: Vec<Remark>,
    /// What is assumed.
    pub assumptions: Vec<Remark>,
    /// Sensor limits with the new total.
    pub limits: Vec<Judgement>,
    /// The errors as found over the span ([`super::PARTS`]), with their uncertainties.
    pub over_span: Option<Vec<LevelError>>,
}

impl Shift {
    fn none(advised: Advised, remarks: Vec<Remark>) -> Shift {
        Shift {
            advised,
            result: None,
            adjust_limit: None,
            read_at: None,
            level: None,
            rate: None,
            at_reference: false,
            pieces: Vec::new(),
            ways_out: Vec::new(),
            remarks,
            assumptions: Vec::new(),
            limits: Vec::new(),
            over_span: None,
        }
    }
}

/// Suggests where the standing head is taken out today.
pub(super) fn head_place(
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    draft: &Draft,
    found: &[LevelTold],
) -> Option<HeadPlace> {
    let range = known.range(conditions.gradient)?;
    let carried = match draft.answers.choice(Spot::of(Key::OffsetKnown)) {
        Some(Choice::OffsetReadToday | Choice::OffsetClearedToday) => {
            entries.reading(Spot::of(Key::OffsetValue)).map(|(value, _)| value)
        }
        _ => None,
    };
    let current = entries.number(Key::LoopCurrent).map(super::levels::milliamperes);
    let question = HeadQuestion {
        carried,
        range,
        standing_head: conditions.installed.standing_head(),
        tank_gradient: conditions.gradient,
        span: known.span,
        display: entries.reading(Spot::of(Key::Display)).map(|(pressure, _)| pressure),
        current: current.map(|current| range.value(current)),
        control_room: found
            .iter()
            .find(|told| told.teller == Teller::ControlRoom)
            .and_then(|told| told.level),
    };
    Some(question.suggest())
}

/// Says what stands before any shift: where the standing head is taken out must be settled, and be where the
/// utility wants it.
fn settled(draft: &Draft, known: &Known) -> Result<(), Remark> {
    let refuse = |code: &str, text: &str, remedy: &str| Err(Remark::refusal(code, text, remedy));
    match (draft.answers.choice(Spot::of(Key::StandingHeadAt)), known.plan) {
        (None | Some(Choice::HeadNotSettled), _) => refuse(
            "head.not_settled",
            "Where the standing head is taken out today is not settled, so no shift is given.",
            "Go back to As found and settle it: read the offset and the range on the unit, ask the control room for its scaling.",
        ),
        (Some(Choice::HeadTwice), _) => refuse(
            "head.twice",
            "The standing head is taken out in two places. A trim now would hide one error behind another.",
            "Have one of them taken away first (a changed range or scaling is a record of its own), then settle it again.",
        ),
        (Some(Choice::HeadInControlRoom), _) => refuse(
            "head.in_control_room",
            "The control room's scaling takes the standing head out. A trim would take it out a second time.",
            "Agree with the control room which of the two shall hold it, have the other changed, then settle it again.",
        ),
        (Some(Choice::HeadInRange), Choice::HeadInOffset) => refuse(
            "head.in_range",
            "The range takes the standing head out, and the register wants it in the offset.",
            "Re-range first: that is an action and a record of its own. Then settle it again.",
        ),
        (Some(Choice::HeadInOffset | Choice::HeadNowhere), Choice::HeadInRange) => refuse(
            "head.not_in_range",
            "The register wants the standing head in the range, and it is not there.",
            "Re-range first: that is an action and a record of its own. Then settle it again.",
        ),
        _ => Ok(()),
    }
}

/// Works out the shift.
pub(super) fn shift(draft: &Draft, known: &Known, conditions: &Conditions, entries: &Entries) -> Shift {
    if let Err(remark) = settled(draft, known) {
        return Shift::none(Advised::Blocked, vec![remark]);
    }
    let built = match build(draft, known, conditions, entries, Timing::Before) {
        None => {
            let text = "There is no display reading to start from.";
            let remark = Remark::refusal(
                "shift.no_reading",
                text,
                "Go back to As found and enter what the display shows.",
            );
            return Shift::none(Advised::NotDetermined, vec![remark]);
        }
        Some(Err(error)) => {
            return Shift::none(
                Advised::Blocked,
                vec![Remark::impossible("shift.evidence", error.to_string(), "")],
            );
        }
        Some(Ok(built)) => built,
    };
    let outcome = built.case.solve().and_then(|solved| Ok((solved.reconcile(&built.ask)?, solved)));
    match outcome {
        Err(error) => {
            Shift::none(Advised::Blocked, vec![Remark::impossible("shift.evidence", error.to_string(), "")])
        }
        Ok((Outcome::NotDetermined(ways), _)) => not_determined(draft, &built, ways),
        Ok((Outcome::Determined(result), solved)) => Shift {
            over_span: after_trim::found(known, conditions, &built.ask, &solved),
            ..determined(draft, known, conditions, entries, &built, result)
        },
    }
}

fn not_determined(draft: &Draft, built: &Built, ways: Vec<WayOut>) -> Shift {
    let riser =
        draft.pieces.iter().any(|piece| piece.kind == PieceKind::Riser && piece.timing == Timing::Before);
    let text = if riser {
        "A riser height tells what the standing head is, but not what the unit already takes out: the offset it carries is not known."
    } else if built.references.is_empty() {
        "There is no reference yet, so no shift is given."
    } else {
        "The evidence so far does not determine a shift."
    };
    let remark = Remark::refusal(
        "shift.not_determined",
        text,
        "Take one of the ways out below, the first that is possible here.",
    );
    Shift {
        ways_out: ways,
        read_at: Some(built.read_at),
        ..Shift::none(Advised::NotDetermined, vec![remark])
    }
}

fn determined(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    built: &Built,
    result: Box<Reconciled>,
) -> Shift {
    let show = Show::new(known, conditions.gradient);
    let limits = judge_limits(known, conditions, &result);
    let mut remarks = broken(&show, &limits, highest(known, conditions).by);
    let blocked = !remarks.is_empty();
    remarks.extend(tested(known, &show));
    remarks.extend(disagreement(&result));
    remarks.extend(mounting::hot(known, conditions));
    remarks.extend(flow::at_the_target(draft, known, conditions, entries, result.to));
    let (advised, adjust_limit) = match advise(&result.error, &known.level) {
        _ if blocked => (Advised::Blocked, None),
        Ok(Advice::Adjust { limit }) => (Advised::Trim, Some(limit)),
        Ok(Advice::DoNotAdjust { limit }) => (Advised::DoNotAdjust, Some(limit)),
        Err(error) => {
            remarks.push(Remark::refusal("shift.not_judged", error.to_string(), ""));
            (Advised::Blocked, None)
        }
    };
    let level = built.level.and_then(|level| result.levels.iter().find(|(id, _)| *id == level));
    let level = level.map(|(_, estimate)| estimate.value);
    remarks.extend(level.filter(|level| levels::outside(known, *level)).map(|level| {
        Remark::doubt(
            Doubt::OutsideTank,
            format!("The evidence puts the level at {}, outside what the tank can hold.", show.length(level)),
            "Look for a slip: unit, sign, mark, or an offset that is not the one the unit carries.",
        )
    }));
    Shift {
        advised,
        adjust_limit,
        read_at: Some(built.read_at),
        level,
        rate: moving::rate(draft, conditions, entries, built.series.as_ref()),
        at_reference: matches!(built.ask.rule, Rule::TrueAtReference { .. }),
        pieces: built.references.iter().map(|(piece, _)| *piece).collect(),
        ways_out: Vec::new(),
        remarks,
        assumptions: assumptions(draft, known, conditions, entries, &result),
        limits,
        over_span: None,
        result: Some(result),
    }
}

/// Sensor limits with the new total, and the highest pressure the tank can bring.
fn judge_limits(known: &Known, conditions: &Conditions, result: &Reconciled) -> Vec<Judgement> {
    let Some(range) = known.range(conditions.gradient) else { return Vec::new() };
    let total = result.total.as_ref().map(|total| total.value);
    known.sensor.limits.judge(&range, total, Some(highest(known, conditions).pressure))
}

/// The highest pressure that can come to the sensor while it is at work, today or in the vessel's working state.
fn highest(known: &Known, conditions: &Conditions) -> Highest {
    let [today, work] =
        [&conditions.installed, &conditions.at_work].map(|installed| Highest::of(known, installed, false));
    if today.pressure > work.pressure { today } else { work }
}

/// A pressure test is nobody's visit, but who stands at the instrument can say that it is shut off before one.
fn tested(known: &Known, show: &Show<'_>) -> Option<Remark> {
    let test = known.overpressure.hydrotest?;
    let most = known.sensor.limits.max_working;
    (test > most).then(|| {
        let text = format!(
            "A pressure test of the line brings {} to this sensor; {} is its maximum working pressure.",
            show.reading(test),
            show.reading(most)
        );
        Remark::warning(
            Claim::Nothing,
            "limit.hydrotest",
            text,
            "See that it is shut off from the line before a test is made.",
        )
    })
}

fn broken(show: &Show<'_>, limits: &[Judgement], by: Pressing) -> Vec<Remark> {
    let broken = limits.iter().filter(|limit| limit.judged == Judged::Broken);
    let remark = |limit: &Judgement| {
        let mut text = limit.sentence(|pressure| show.reading(pressure));
        if limit.rule == LimitRule::WorkingPressure {
            text.push_str(&format!(" What brings it is {}.", by.name()));
        }
        Remark::impossible(
            limit.rule.code(),
            text,
            "A sensor limit would be passed. Check the evidence for a slip; if it stands, another sensor or range is needed.",
        )
    };
    broken.map(remark).collect()
}

fn disagreement(result: &Reconciled) -> Option<Remark> {
    let named = |reference: crate::evidence::ReferenceId| {
        let alone = result.alone.iter().find(|alone| alone.reference == reference);
        alone.map_or_else(String::new, |alone| alone.label.clone())
    };
    let (text, remedy) = match result.consistency.agreement {
        Agreement::Unchecked | Agreement::AgreesWithinShared | Agreement::Agrees => return None,
        Agreement::TwoDisagree => (
            "Two things disagree by more than their uncertainty, and nothing here tells which is wrong."
                .to_owned(),
            "Measure one of them again, or bring a third that shares nothing with them.",
        ),
        Agreement::Disagrees => (
            "The evidence disagrees with itself by more than its uncertainty.".to_owned(),
            "Look for a slip in unit, sign or mark, and measure again.",
        ),
        Agreement::Suspect(reference) => (
            format!("Without the {} the rest agrees: it is the one to doubt.", named(reference)),
            "Measure it again, or take it away with a reason.",
        ),
    };
    Some(Remark::doubt(Doubt::ReferencesDisagree, text, remedy))
}

fn assumptions(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    result: &Reconciled,
) -> Vec<Remark> {
    let mut said: Vec<Remark> = mounting::assumptions(known, conditions);
    said.extend(flow::assumption(draft, known, conditions, entries));
    for assumed in &result.assumptions {
        let share = assumed.share * 100.0;
        let text = format!("Assumed: {} ({share:.0} % of the doubt).", assumed.label);
        said.push(Remark::note("assumed.input", text));
    }
    if result.leans_on_allowance {
        let check = if vented::equalised(&draft.instrument) { "an equalised zero" } else { "a vented check" };
        let text = format!(
            "A measured height does not show what the sensor itself is off by: {check} or a level would."
        );
        said.push(Remark::note("assumed.zero_true", text));
    }
    if result.total.is_none() {
        said.push(Remark::note("assumed.offset_unknown", "The offset the unit carries is not known: no new total is given, and limits that depend on it are not judged."));
    }
    let has = |kind| draft.pieces.iter().any(|piece| piece.kind == kind && piece.timing == Timing::Before);
    if has(PieceKind::KnownEmpty) && known.mounted.mounting.has_line() {
        let text =
            "Assumed: the riser was full when the tank was empty. A riser that ran partly dry reads short.";
        said.push(Remark::note("assumed.riser_full", text));
    }
    let checks: Vec<&Piece> = draft
        .pieces
        .iter()
        .filter(|piece| piece.kind == PieceKind::Vented && piece.timing == Timing::Before)
        .collect();
    said.extend(vented::assumption(draft, &checks));
    if draft.answers.choice(Spot::of(Key::VentLooked)) == Some(Choice::VentNotSeen) {
        said.push(Remark::note("vent.not_seen", "The vent path was not seen: it is assumed clear and dry."));
    }
    said
}
