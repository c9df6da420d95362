//! Everything that follows from a draft, worked out anew each time from its answers.

use std::collections::BTreeMap;

use super::advice::{Shift, head_place, shift};
use super::after_trim::after;
use super::left::{Left, left};
use super::left_over::LeftOver;
use super::levels::{FOUND, LEFT, LevelTold, levels, remarks};
use super::slips::Visit;
use super::{
    Advised, Ask, Choice, Conditions, Doubt, Draft, Entries, Fault, FivePoint, Key, Known, Missing, PieceId,
    Remark, Slip, Spot, Step, Takes, Today, When, asks, checks, entries, fitted, five, flow, missing,
    mounting, plausible, safety, series, slips,
};
use crate::head::HeadError;
use crate::ranging::HeadPlace;

/// What follows from a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// The register row, read.
    pub known: Known,
    /// Density, air and gravity of the day.
    pub conditions: Conditions,
    /// Every answer, read.
    pub entries: Entries,
    /// The three levels as found.
    pub found: Vec<LevelTold>,
    /// The three levels as left.
    pub levels_left: Vec<LevelTold>,
    /// Where the standing head seems to be taken out.
    pub head_place: Option<HeadPlace>,
    /// The shift.
    pub shift: Shift,
    /// Errors and verdict.
    pub left: Left,
    /// What is left over the span.
    pub after: Option<LeftOver>,
    /// The five-point check as found, where a pressure source is at hand.
    pub check_found: Option<FivePoint>,
    /// The five-point check as left, after a trim that took.
    pub check_left: Option<FivePoint>,
    /// Slips the numbers give away.
    pub slips: Vec<Slip>,
    remarks: BTreeMap<Step, Vec<Remark>>,
    piece_remarks: BTreeMap<PieceId, Vec<Remark>>,
    missing: BTreeMap<Step, Vec<Missing>>,
}

/// Works out everything that follows from a draft.
///
/// # Errors
///
/// The faults of the register row: without it nothing can be worked out.
pub fn assess(draft: &Draft) -> Result<Assessment, Vec<Fault>> {
    let known = fitted::known(draft)?;
    let (conditions, trouble) = conditions(draft, &known)?;
    let mut entries = Entries::read(draft, &known, conditions.gradient);
    for (key, trouble) in trouble {
        let remark = Remark::impossible(
            "temperature.out_of_range",
            trouble.to_string(),
            "The season's temperature is used until then.",
        );
        entries.object(Spot::of(key), remark);
    }
    let numbers = suspected(draft, &known, &conditions, &mut entries);
    let found = levels(&known, &conditions, &entries, FOUND);
    let levels_left = levels(&known, &conditions, &entries, LEFT);
    let head_place = head_place(&known, &conditions, &entries, draft, &found);
    let mut shift = shift(draft, &known, &conditions, &entries);
    five::object(draft, &known, &conditions, &mut entries);
    let visit = Visit { draft, known: &known, conditions: &conditions, entries: &entries };
    let slips = slips::find(&visit, numbers, &shift, &found);
    slips::said_once(&slips, &mut shift.remarks);
    let left = left(draft, &known, &conditions, &entries, &shift);
    let five = |when| five::checked(draft, &known, &conditions, &entries, &shift, when);
    let (check_found, check_left) = (five(When::Found), five(When::Left));
    let after = after(draft, &known, &conditions, &shift, &left);
    let mut assessment = Assessment {
        known,
        conditions,
        entries,
        found,
        levels_left,
        head_place,
        shift,
        left,
        check_found,
        check_left,
        after,
        slips,
        remarks: BTreeMap::new(),
        piece_remarks: BTreeMap::new(),
        missing: BTreeMap::new(),
    };
    assessment.remark(draft);
    assessment.missing =
        Step::ALL.into_iter().map(|step| (step, missing::missing(draft, &assessment, step))).collect();
    Ok(assessment)
}

/// Objects to readings that the sensor cannot make, and looks for a slip in the numbers. A reading that is impossible with
/// the offset that was typed may speak against the offset: where a slip explains it, the reading stands.
fn suspected(draft: &Draft, known: &Known, conditions: &Conditions, entries: &mut Entries) -> Option<Slip> {
    let mut kept = entries.clone();
    plausible::object(draft, known, conditions, &mut kept, true);
    let slip = slips::in_the_numbers(&Visit { draft, known, conditions, entries: &kept });
    match &slip {
        Some(slip) if !slip.causes.is_empty() => *entries = kept,
        _ => plausible::object(draft, known, conditions, entries, false),
    }
    slip
}

/// Temperatures that were measured and are not used, with why.
type Troubles = Vec<(Key, HeadError)>;

/// The day's conditions; a measured temperature outside the formulas' range is told and not used.
fn conditions(draft: &Draft, known: &Known) -> Result<(Conditions, Troubles), Vec<Fault>> {
    let measured = entries::today(draft, known);
    if let Ok(conditions) = Conditions::today(known, measured) {
        return Ok((conditions, Vec::new()));
    }
    let none = Today { at_rest: measured.at_rest, ..Today::default() };
    let alone = [
        (Key::LiquidTemperature, Today { liquid: measured.liquid, ..none }),
        (Key::RiserTemperature, Today { line: measured.line, ..none }),
        (Key::FillTemperature, Today { fill: measured.fill, ..none }),
    ];
    let trouble =
        alone.into_iter().filter_map(|(key, one)| Some((key, Conditions::today(known, one).err()?)));
    Ok((Conditions::today(known, none).map_err(fault)?, trouble.collect()))
}

#[allow(clippy::needless_pass_by_value)] // Maps an error by value.
fn fault(error: HeadError) -> Vec<Fault> {
    vec![Fault { field: "site".into(), text: error.to_string() }]
}

impl Assessment {
    /// Returns what a step asks: what it always asks, and a reason where a decision departs from the advice.
    #[must_use]
    pub fn asks(&self, draft: &Draft, step: Step) -> Vec<Ask> {
        let mut asked = asks(draft, step);
        flow::put_in(&mut asked, draft, (&self.known, &self.conditions), step);
        if step == Step::Shift && self.departs(draft) {
            let (spot, takes) = (Spot::of(Key::DecisionReason), Takes::Text(Vec::new()));
            asked.push(Ask { spot, takes, required: true, label: String::new() });
        }
        asked
    }

    /// Tells whether what runs in the riser must be said.
    pub(super) fn flow_matters(&self) -> bool {
        flow::matters(&self.known, &self.conditions)
    }

    fn departs(&self, draft: &Draft) -> bool {
        match draft.answers.choice(Spot::of(Key::Decision)) {
            Some(Choice::Trim) => self.shift.advised != Advised::Trim,
            Some(Choice::Leave) => self.shift.advised != Advised::DoNotAdjust,
            _ => false,
        }
    }

    /// Returns what is said on a step.
    #[must_use]
    pub fn remarks(&self, step: Step) -> &[Remark] {
        self.remarks.get(&step).map_or(&[], Vec::as_slice)
    }

    /// Returns what is said about a piece of evidence.
    #[must_use]
    pub fn piece_remarks(&self, piece: PieceId) -> &[Remark] {
        self.piece_remarks.get(&piece).map_or(&[], Vec::as_slice)
    }

    /// Returns what a step still needs.
    #[must_use]
    pub fn missing(&self, step: Step) -> &[Missing] {
        self.missing.get(&step).map_or(&[], Vec::as_slice)
    }

    /// Tells whether a step has all it needs.
    #[must_use]
    pub fn complete(&self, step: Step) -> bool {
        self.missing(step).is_empty()
    }

    fn remark(&mut self, draft: &Draft) {
        let mut as_found = checks::as_found(draft, &self.entries);
        as_found.extend(remarks(&self.known, &self.conditions, &self.entries, &self.found, FOUND));
        as_found.extend(self.head_unlikely(draft));
        as_found.extend(flow::remarks(draft, &self.known, &self.conditions, &self.entries));
        as_found.extend(series::remarks(draft, &self.known, &self.conditions, &self.entries));
        slips::said_once(&self.slips, &mut as_found);
        as_found.extend(self.slipped(Step::AsFound));
        let mut evidence = checks::evidence(draft);
        evidence.extend(mounting::notes(&self.conditions));
        evidence.extend(self.slipped(Step::Evidence));
        let mut as_left = self.left.remarks.clone();
        as_left.extend(remarks(&self.known, &self.conditions, &self.entries, &self.levels_left, LEFT));
        as_found.extend(self.check_found.iter().flat_map(five::remarks));
        as_left.extend(self.check_left.iter().flat_map(five::remarks));
        self.remarks.insert(Step::Find, checks::find(draft));
        self.remarks.insert(Step::MakeSafe, safety::refusal(&draft.instrument).into_iter().collect());
        self.remarks.insert(Step::AsFound, as_found);
        self.remarks.insert(Step::Evidence, evidence);
        self.remarks.insert(Step::Shift, self.doubts());
        self.remarks.insert(Step::AsLeft, as_left);
        let visit = Visit { draft, known: &self.known, conditions: &self.conditions, entries: &self.entries };
        // A slip in the numbers says the same, with what else it may be.
        let slipped = self.slips.iter().any(|slip| slip.doubt == Doubt::SlipNumbers);
        for piece in &draft.pieces {
            let mut said = checks::piece(draft, &self.known, &self.conditions, &self.entries, piece);
            if !slipped {
                said.extend(slips::short(&visit, piece));
            }
            self.piece_remarks.insert(piece.id, said);
        }
    }

    /// The shift's warnings hold a step up until a reason is given; its refusals only forbid the trim.
    fn doubts(&self) -> Vec<Remark> {
        let slips = self.slips.iter().filter(|slip| slip.of_the_shift()).map(Slip::remark);
        self.shift.remarks.iter().filter(|remark| remark.reason_row > 0).cloned().chain(slips).collect()
    }

    /// The slips in a number that was typed on a step.
    fn slipped(&self, step: Step) -> Vec<Remark> {
        self.slips.iter().filter(|slip| slip.step == step).map(Slip::remark).collect()
    }

    fn head_unlikely(&self, draft: &Draft) -> Option<Remark> {
        let answered = draft.answers.choice(Spot::of(Key::StandingHeadAt))?;
        let place = self.head_place.as_ref()?;
        let settled = |choice| choice != Choice::HeadNotSettled;
        (settled(answered) && settled(place.choice) && answered != place.choice).then(|| {
            Remark::doubt(
                Doubt::HeadUnlikely,
                format!("The numbers speak for another place. {}", place.reasons.join(" ")),
                "Look again at the unit's offset and range and at the control room's scaling.",
            )
        })
    }
}
