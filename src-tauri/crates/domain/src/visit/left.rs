//! What was, what is, what is left over: errors as found and as left, and the verdict.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::advice::Shift;
use super::builder::build;
use super::conditions::Conditions;
use super::entries::Entries;
use super::{Choice, Doubt, Draft, Key, Known, Remark, Said, Show, Spot, Timing};
use crate::evidence::{BudgetRow, Done, LevelError, Outcome, Proof, Reconciled, judge, rule_sentence};

/// Errors and verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    /// Error as found.
    pub found: Option<LevelError>,
    /// Error as left.
    pub left: Option<LevelError>,
    /// The verdict.
    pub verdict: Said,
    /// The rule it was reached by.
    pub rule: String,
    /// True when evidence from outside the trim proves it.
    pub proved: bool,
    /// What is to be said about it.
    pub remarks: Vec<Remark>,
}

/// Works out errors and verdict from what was decided and done.
pub(super) fn left(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    shift: &Shift,
) -> Left {
    let Some(result) = shift.result.as_deref() else { return not_judged() };
    let found = as_found(draft, conditions, entries, result);
    let mut remarks = Vec::new();
    let (done, left, budget) = match decided(draft) {
        Deed::Nothing => return undecided(found),
        Deed::Left => (Done::Left, Some(found), result.budget.clone()),
        Deed::PutBack => (Done::PutBack, Some(found), result.budget.clone()),
        Deed::Trimmed => match as_left(draft, known, conditions, entries, result) {
            Some((proof, error, budget)) => (Done::Trimmed(proof), Some(error), budget),
            None => return undecided(found),
        },
    };
    let Some(error) = left else { return not_judged() };
    remarks.extend(missed(known, conditions, done, &error));
    remarks.extend(relied_on(known, conditions, &found));
    let judged = judge(&error, &known.level, done, &budget);
    let verdict = match judged {
        Ok(verdict) => Said { code: verdict.code().to_owned(), text: verdict.text() },
        Err(error) => Said { code: "not_judged".into(), text: format!("Not judged. {error}") },
    };
    let show = Show::new(known, conditions.gradient);
    let rule = rule(known, &show, &error);
    Left {
        found: Some(found),
        left,
        verdict,
        rule,
        proved: done == Done::Trimmed(Proof::Independent),
        remarks,
    }
}

fn rule(known: &Known, show: &Show<'_>, error: &LevelError) -> String {
    if error.expanded < known.level.tolerance {
        return rule_sentence(&known.level, error.expanded, |length| show.small(length));
    }
    format!(
        "Rule: an uncertainty of {} (95 %) is not smaller than the tolerance of {}, so nothing is judged by it.",
        show.small(error.expanded),
        show.small(known.level.tolerance)
    )
}

enum Deed {
    Nothing,
    Left,
    PutBack,
    Trimmed,
}

fn decided(draft: &Draft) -> Deed {
    let decision = draft.answers.choice(Spot::of(Key::Decision));
    match (decision, draft.answers.choice(Spot::of(Key::TrimResult))) {
        (Some(Choice::Leave), _) => Deed::Left,
        (Some(Choice::Trim), Some(Choice::PutBack)) => Deed::PutBack,
        (Some(Choice::Trim), Some(Choice::TrimTook)) => Deed::Trimmed,
        _ => Deed::Nothing,
    }
}

fn not_judged() -> Left {
    let text = "Not judged: the evidence of the day determines no shift.";
    Left {
        found: None,
        left: None,
        verdict: Said { code: "not_determined".into(), text: text.into() },
        rule: String::new(),
        proved: false,
        remarks: Vec::new(),
    }
}

fn undecided(found: LevelError) -> Left {
    let verdict = Said { code: "open".into(), text: "Not decided yet.".into() };
    Left { found: Some(found), ..not_judged() }.with(verdict)
}

impl Left {
    fn with(mut self, verdict: Said) -> Left {
        self.verdict = verdict;
        self
    }
}

/// The error of the display as it was found. Where the offset was cleared since, the evidence speaks of the cleared
/// unit, and the old offset is put back into the sum.
fn as_found(draft: &Draft, conditions: &Conditions, entries: &Entries, result: &Reconciled) -> LevelError {
    let cleared = draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday);
    let old = entries.reading(Spot::of(Key::OffsetValue)).filter(|_| cleared).map(|(old, _)| old);
    let moved = old.map_or(Length::default(), |old| conditions.gradient.length(old));
    LevelError { value: result.error.value + moved, ..result.error }
}

/// The error after the trim: by evidence taken after it, else against the reading it was trimmed to.
fn as_left(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    result: &Reconciled,
) -> Option<(Proof, LevelError, Vec<BudgetRow>)> {
    let (shown, _) = entries.reading(Spot::of(Key::DisplayLeft))?;
    if draft.pieces.iter().any(|piece| piece.timing == Timing::After)
        && let Some(Ok(built)) = build(draft, known, conditions, entries, Timing::After)
        && let Ok(Outcome::Determined(after)) = built.case.reconcile(&built.ask)
    {
        return Some((Proof::Independent, after.error, after.budget));
    }
    let over = Length::new::<meter>((shown - result.to).value / result.per_metre.value);
    Some((Proof::SameReference, LevelError { value: over, ..result.error }, result.budget.clone()))
}

fn missed(known: &Known, conditions: &Conditions, done: Done, error: &LevelError) -> Option<Remark> {
    let Done::Trimmed(_) = done else { return None };
    let limit = known.level.adjust_limit(error.expanded);
    (error.value.abs() > limit).then(|| {
        let show = Show::new(known, conditions.gradient);
        Remark::doubt(
            Doubt::TrimMissed,
            format!("The display is {} from where the trim should have put it.", show.signed(error.value)),
            "Check that the new value was stored, that the level did not move, and that the sign was right; trim again or put it back as found.",
        )
    })
}

/// As found outside tolerance raises a question that is not the technician's to answer.
fn relied_on(known: &Known, conditions: &Conditions, found: &LevelError) -> Option<Remark> {
    (found.value.abs() > known.level.tolerance).then(|| {
        let show = Show::new(known, conditions.gradient);
        Remark::warning(
            "found.outside",
            format!("As found it was {} off, outside the tolerance of {}.", show.signed(found.value), show.small(known.level.tolerance)),
            "Tell the supervisor: what relied on this level since the last good record? Where it is fire storage, notify first.",
        )
    })
}
