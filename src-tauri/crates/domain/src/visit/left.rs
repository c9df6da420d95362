//! What was, what is, what is left over: errors as found and as left, and the verdict.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;

use super::advice::Shift;
use super::builder::build;
use super::conditions::Conditions;
use super::entries::Entries;
use super::{Choice, Claim, Doubt, Draft, Key, Known, Remark, Said, Show, Spot, Timing, flow, moving};
use crate::evidence::alarm::TRIM;
use crate::evidence::{
    BudgetRow, Done, LevelError, Moved, Outcome, Proof, Reconciled, beyond_by_chance, judge, rule_sentence,
};

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
        Deed::Left => (Done::Left, Some(result.error), result.budget.clone()),
        Deed::PutBack => (Done::PutBack, Some(found), result.budget.clone()),
        Deed::Trimmed => match as_left(draft, known, conditions, entries, shift, result) {
            Some((proof, error, budget)) => (Done::Trimmed(proof), Some(error), budget),
            None => return undecided(found),
        },
    };
    let Some(error) = left else { return not_judged() };
    remarks.extend(missed(known, conditions, done, &error, &result.error));
    if let Done::Trimmed(proof) = done {
        remarks.extend(moved_on(known, conditions, entries, draft, (shift, result), proof));
    }
    let target =
        flow::target_now(result, since(draft, shift).by, flow::changed(draft, known, conditions, entries));
    let trimmed = matches!(done, Done::Trimmed(_)).then_some(target);
    remarks.extend(flow::remarks_left(draft, known, conditions, entries, trimmed));
    if done == Done::PutBack {
        remarks.extend(put_back(draft, known, conditions, entries));
    }
    remarks.extend(relied_on(known, conditions, &found));
    let judged = judge(&error, &known.level, done, &budget);
    let verdict = match judged {
        Ok(verdict) => Said { code: verdict.code().to_owned(), text: verdict.text() },
        Err(error) => Said { code: "not_judged".into(), text: format!("Not judged. {error}") },
    };
    let show = Show::new(known, conditions.gradient);
    let rule = rule(known, &show, done, &error);
    Left {
        found: Some(found),
        left,
        verdict,
        rule,
        proved: done == Done::Trimmed(Proof::Independent),
        remarks,
    }
}

fn rule(known: &Known, show: &Show<'_>, done: Done, error: &LevelError) -> String {
    if done == Done::PutBack {
        return String::new();
    }
    if done == Done::Trimmed(Proof::SameReference) && error.expanded < known.level.tolerance {
        let limit = show.small(known.level.adjust_limit(error.expanded));
        return format!(
            "Rule: a trim judged by its own reference proves nothing about the tolerance; it took when the display is \
             within the adjust limit of {limit} of where it was trimmed to."
        );
    }
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
        (Some(Choice::Leave), Some(Choice::PutBack)) if cleared(draft) => Deed::PutBack,
        (Some(Choice::Leave), _) if cleared(draft) => Deed::Nothing,
        (Some(Choice::Leave), _) => Deed::Left,
        (Some(Choice::Trim), Some(Choice::PutBack)) => Deed::PutBack,
        (Some(Choice::Trim), Some(Choice::TrimTook)) => Deed::Trimmed,
        _ => Deed::Nothing,
    }
}

/// A unit whose offset was cleared today may not be left like that: it is trimmed, or put back.
pub(super) fn cleared(draft: &Draft) -> bool {
    draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday)
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
    let old = entries.reading(Spot::of(Key::OffsetValue)).filter(|_| cleared(draft)).map(|(old, _)| old);
    let moved = old.map_or(Length::default(), |old| conditions.gradient.length(old));
    LevelError { value: result.error.value + moved, ..result.error }
}

/// The error after the trim: by evidence taken after it, else against the reading it was trimmed to.
fn as_left(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    shift: &Shift,
    result: &Reconciled,
) -> Option<(Proof, LevelError, Vec<BudgetRow>)> {
    let (shown, _) = entries.reading(Spot::of(Key::DisplayLeft))?;
    if draft.pieces.iter().any(|piece| piece.timing == Timing::After)
        && let Some(Ok(built)) = build(draft, known, conditions, entries, Timing::After)
        && let Ok(Outcome::Determined(after)) = built.case.reconcile(&built.ask)
    {
        return Some((Proof::Independent, after.error, after.budget));
    }
    let flow = flow::changed(draft, known, conditions, entries);
    let moved = since(draft, shift);
    let target = flow::target_now(result, moved.by, flow);
    let as_length = |pressure: Pressure| Length::new::<meter>(pressure.value / result.per_metre.value);
    let error = LevelError { value: as_length(shown - target), ..result.error };
    let error = less_sure(less_sure(error, as_length(flow.half) / libm::sqrt(3.0)), moved.standard);
    Some((Proof::SameReference, error, result.budget.clone()))
}

/// A flow that changed since and a level that moved on make the error as left less sure, beside what it rests on already.
fn less_sure(error: LevelError, standard: Length) -> LevelError {
    let hypot = |one: Length, other: Length| {
        Length::new::<meter>(libm::hypot(one.get::<meter>(), other.get::<meter>()))
    };
    LevelError {
        standard: hypot(error.standard, standard),
        expanded: hypot(error.expanded, standard * error.coverage),
        ..error
    }
}

/// How far the level has moved on since the reading that the trim started from, at the rate that was measured.
fn since(draft: &Draft, shift: &Shift) -> Moved {
    let left = draft.answers.get(Spot::of(Key::DisplayLeft)).map(|answer| answer.at);
    moving::since(shift.rate, shift.read_at, left)
}

/// Says where a trim that took should have left the display, where the level moved on since.
fn moved_on(
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    draft: &Draft,
    (shift, result): (&Shift, &Reconciled),
    proof: Proof,
) -> Vec<Remark> {
    let since = since(draft, shift);
    let moved = since.by;
    let note = (moved.get::<meter>().abs() > 5e-4).then(|| {
        let show = Show::new(known, conditions.gradient);
        let flow = flow::changed(draft, known, conditions, entries);
        let target = flow::target_now(result, moved, flow);
        let text = format!(
            "At the rate measured the level has moved by {} since then: the display should show {} now.",
            show.signed(moved),
            show.reading(target)
        );
        Remark::note("target.moved", text)
    });
    // What was measured after the trim does not lean on the rate from before it.
    let again = moving::read_again(
        &since,
        "Read again: add a dip after the trim, with the display read before and after it.",
    );
    note.into_iter().chain(again.filter(|_| proof == Proof::SameReference)).collect()
}

/// Putting back is checked against what was found, and says what was in force.
fn put_back(draft: &Draft, known: &Known, conditions: &Conditions, entries: &Entries) -> Vec<Remark> {
    let show = Show::new(known, conditions.gradient);
    let offset = draft.answers.text(Spot::of(Key::OffsetValue));
    let offset = if offset.is_empty() {
        "as it was (not known)".to_owned()
    } else {
        format!("{offset} {}", known.unit.symbol())
    };
    let row = &draft.instrument;
    let text =
        format!("As found: offset {offset}, LRV {} and URV {} {}.", row.lrv, row.urv, known.unit.symbol());
    let mut said = vec![Remark::note("put_back.values", text)];
    let read = |key| entries.reading(Spot::of(key)).map(|(reading, _)| reading);
    if let (Some(left), Some(found)) = (read(Key::DisplayLeft), read(Key::Display)) {
        let flow = flow::changed(draft, known, conditions, entries);
        let apart = conditions.gradient.length(left - found - flow.by);
        if apart.abs() > known.level.adjust_limit(Length::default()) {
            said.push(Remark::doubt(
                Doubt::NotPutBack,
                format!("The display is {} from what it showed as found.", show.signed(apart)),
                "Check that the old offset is in force again, or say why the level is another one now.",
            ));
        }
    }
    said
}

/// A trim that took leaves the display at its target, by the reference it was made with; evidence taken afterwards may see
/// it as far from there as the two know it.
fn missed(
    known: &Known,
    conditions: &Conditions,
    done: Done,
    error: &LevelError,
    before: &LevelError,
) -> Option<Remark> {
    let by_chance = match done {
        Done::Trimmed(Proof::SameReference) => 0.0,
        Done::Trimmed(Proof::Independent) => {
            let both = libm::hypot(error.standard.value, before.standard.value);
            beyond_by_chance(error.value.value / both, error.freedom.min(before.freedom))
        }
        _ => return None,
    };
    (error.value.abs() > known.level.adjust_limit(error.expanded) && by_chance < TRIM).then(|| {
        let show = Show::new(known, conditions.gradient);
        Remark::doubt(
            Doubt::TrimMissed,
            format!("The display is {} from where the trim should have put it.", show.signed(error.value)),
            "Check that the new value was stored, that the level did not move, and that the sign was right; trim again or put it back as found.",
        )
    })
}

/// As found outside tolerance raises a question that is not the technician's to answer. It is asked within the guard band
/// too, where nobody can say for sure that it was outside.
fn relied_on(known: &Known, conditions: &Conditions, found: &LevelError) -> Option<Remark> {
    let tolerance = known.level.tolerance;
    (found.value.abs() > tolerance).then(|| {
        let show = Show::new(known, conditions.gradient);
        let (off, tolerated) = (show.signed(found.value), show.small(tolerance));
        let (claim, code, text) = if found.value.abs() > tolerance + found.expanded {
            let text = format!("As found it was {off} off, outside the tolerance of {tolerated}.");
            (Claim::UnitOff, "found.outside", text)
        } else {
            let sure = show.small(found.expanded);
            let text = format!(
                "As found it was {off} off, ± {sure}: past the tolerance of {tolerated}, but by less than the uncertainty."
            );
            (Claim::Nothing, "found.perhaps_outside", text)
        };
        Remark::warning(
            claim,
            code,
            text,
            "Tell the supervisor: what relied on this level since the last good record? Where it is fire storage, notify first.",
        )
    })
}
