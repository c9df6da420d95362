//! What to measure next: only what this site, liquid, crew and day permit, by what it would gain for the effort.

mod possible;
mod suppose;

use uom::si::f64::{Length, Time};
use uom::si::length::meter;
use uom::si::time::minute;

use super::builder::{Built, build};
use super::{Assessment, Climb, Draft, PieceKind, Timing, climb};
use crate::evidence::{Agreement, Outlook};
use suppose::Site;

/// Something that can be measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Measure {
    /// Read the offset on the unit.
    ReadOffset,
    /// Measure the liquid's temperature.
    Temperature,
    /// Read the display more often.
    LongerSeries,
    /// See that the tank is empty to its sill.
    KnownEmpty,
    /// Dip from the floor, with the tape named; an empty name for any.
    Dip(String),
    /// Drop from the hatch, with the tape named; an empty name for any.
    Drop(String),
    /// See how the overflow runs.
    Overflow,
    /// Hear another instrument.
    Other(String),
    /// Measure the riser with a laser.
    RiserByLaser,
    /// Measure the riser with a tape.
    RiserByTape,
    /// Make a vented check.
    Vented,
}

impl Measure {
    /// Returns about how long it takes. Common practice, no source.
    #[must_use]
    pub fn effort(&self) -> Time {
        let minutes = match self {
            Measure::ReadOffset | Measure::Temperature | Measure::LongerSeries => 3.0,
            Measure::Other(_) | Measure::Overflow => 5.0,
            Measure::KnownEmpty => 10.0,
            Measure::Dip(_) | Measure::Drop(_) | Measure::Vented | Measure::RiserByLaser => 15.0,
            Measure::RiserByTape => 30.0,
        };
        Time::new::<minute>(minutes)
    }

    /// Returns the kind of evidence it would add, if it adds one.
    #[must_use]
    pub fn adds(&self) -> Option<PieceKind> {
        match self {
            Measure::ReadOffset | Measure::Temperature | Measure::LongerSeries => None,
            Measure::KnownEmpty => Some(PieceKind::KnownEmpty),
            Measure::Dip(_) => Some(PieceKind::Dip),
            Measure::Drop(_) => Some(PieceKind::Drop),
            Measure::Overflow => Some(PieceKind::Overflow),
            Measure::Other(_) => Some(PieceKind::OtherInstrument),
            Measure::RiserByLaser | Measure::RiserByTape => Some(PieceKind::Riser),
            Measure::Vented => Some(PieceKind::Vented),
        }
    }
}

/// A measurement with what it would do.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which.
    pub measure: Measure,
    /// The expanded uncertainty of the level error with it.
    pub then: Length,
    /// True where two things disagree and this would tell which is wrong.
    pub settles: bool,
}

/// What to measure next.
#[derive(Debug, Clone, PartialEq)]
pub struct NextBest {
    /// The expanded uncertainty of the level error now, where the shift is determined.
    pub now: Option<Length>,
    /// True when the uncertainty is under a third of the tolerance and nothing disagrees: stop here.
    pub enough: bool,
    /// Two things disagree and nothing so far tells which is wrong.
    pub disagree: bool,
    /// What is worth its effort, best first.
    pub proposals: Vec<Proposal>,
}

/// How many proposals are shown.
const MOST: usize = 4;
/// A proposal that takes less than this off the uncertainty is not worth a walk.
const WORTH: f64 = 0.1;

impl Assessment {
    /// Works out what to measure next before the trim; nothing where there is no display reading to start from, or
    /// something stands before any shift.
    #[must_use]
    pub fn next_best(&self, draft: &Draft) -> Option<NextBest> {
        let built = build(draft, &self.known, &self.conditions, &self.entries, Timing::Before)?.ok()?;
        next_best(draft, self, &built)
    }

    /// Returns all that can be measured here before the trim and would give a shift, worth its effort or not, in no order of
    /// worth; nothing where there is no display reading to start from.
    #[must_use]
    pub fn measurable(&self, draft: &Draft) -> Vec<Proposal> {
        let built = build(draft, &self.known, &self.conditions, &self.entries, Timing::Before);
        let Some(Ok(built)) = built else { return Vec::new() };
        let Ok(mut outlook) = built.case.outlook(&built.ask) else { return Vec::new() };
        all(draft, self, &built, &mut outlook, false)
    }
}

fn next_best(draft: &Draft, assessment: &Assessment, built: &Built) -> Option<NextBest> {
    let mut outlook = built.case.outlook(&built.ask).ok()?;
    let gradient = assessment.conditions.gradient;
    let now = outlook.now().map(|now| gradient.length(now));
    let result = assessment.shift.result.as_deref();
    let disagree = result.is_some_and(|result| result.consistency.agreement == Agreement::TwoDisagree);
    let third = assessment.known.level.tolerance / 3.0;
    let enough = !disagree && now.is_some_and(|now| now < third);
    let mut proposals = Vec::new();
    if !enough {
        proposals = all(draft, assessment, built, &mut outlook, disagree);
        let gains = |proposal: &Proposal| now.is_none_or(|now| proposal.then < now * (1.0 - WORTH));
        proposals.retain(|proposal| proposal.settles || gains(proposal));
        proposals.sort_by(|one, two| {
            two.settles.cmp(&one.settles).then(worth(two, now).total_cmp(&worth(one, now)))
        });
        proposals.truncate(MOST);
    }
    Some(NextBest { now, enough, disagree, proposals })
}

fn all(
    draft: &Draft,
    assessment: &Assessment,
    built: &Built,
    outlook: &mut Outlook<'_>,
    disagree: bool,
) -> Vec<Proposal> {
    let site = Site { draft, assessment, built, level: outlook.level() };
    outlook.stands_about(site.about());
    let gradient = assessment.conditions.gradient;
    let proposal = |measure| {
        let then = gradient.length(outlook.with(|case| site.suppose(case, &measure))?);
        let settles = disagree && outlook.settles(|case| site.suppose(case, &measure));
        Some(Proposal { measure, then, settles })
    };
    site.possible().into_iter().filter_map(proposal).collect()
}

/// Gain for the effort, in metres a minute. Where nothing is determined yet all gains are the same, and what leaves the
/// least doubt for the least effort comes first.
fn worth(proposal: &Proposal, now: Option<Length>) -> f64 {
    let minutes = proposal.measure.effort().get::<minute>();
    match now {
        Some(now) => (now - proposal.then).get::<meter>() / minutes,
        None => -proposal.then.get::<meter>() * minutes,
    }
}
