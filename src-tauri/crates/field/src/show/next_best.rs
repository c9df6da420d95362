//! What to measure next, and the target that moves, in words.

use domain::visit::{
    Assessment, Choice, Draft, Key, Measure, NextBest, Proposal, Show, Spot, Step, Target, Timing, equalised,
};
use uom::si::f64::Length;
use uom::si::time::minute;

use super::pieces;
use crate::view::{Change, MeasureNextView, ProposalView, TargetView};
use crate::when;

/// Returns what to measure next, on the steps where it can still be measured.
pub(super) fn measure_next(draft: &Draft, assessment: &Assessment) -> Option<MeasureNextView> {
    let here = matches!(draft.step, Step::Evidence | Step::Shift);
    let next = here.then(|| assessment.next_best(draft)).flatten()?;
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    let possible = |proposal: &&Proposal| {
        let closed = proposal.measure.adds().map(|kind| pieces::not_here(draft, assessment, kind));
        closed.is_none_or(|why| why.is_empty())
    };
    let proposals = next.proposals.iter().filter(possible);
    let joined = equalised(&draft.instrument);
    let proposals: Vec<ProposalView> = proposals.map(|one| proposal(one, next.now, &show, joined)).collect();
    Some(MeasureNextView {
        enough: next.enough,
        says: says(draft, &next, &proposals, &show, assessment),
        proposals,
    })
}

fn says(
    draft: &Draft,
    next: &NextBest,
    proposals: &[ProposalView],
    show: &Show<'_>,
    assessment: &Assessment,
) -> String {
    let tolerance = show.small(assessment.known.level.tolerance);
    let mut said = match next.now {
        _ if next.disagree && proposals.is_empty() => {
            "Two things disagree. Nothing that can be measured here today tells which is wrong: measure both again.".into()
        }
        _ if next.disagree => "Two things disagree. What shares nothing with either tells which is wrong.".into(),
        Some(now) if next.enough => {
            format!("Good enough, stop: ± {} is under a third of the tolerance of {tolerance}.", show.small(now))
        }
        Some(now) if proposals.is_empty() => format!(
            "± {} against a tolerance of {tolerance}. Nothing that can be done here from the ground takes a tenth off that.",
            show.small(now)
        ),
        Some(now) => format!("± {} against a tolerance of {tolerance}. Most for the effort comes first.", show.small(now)),
        None if proposals.is_empty() => "Nothing here alone would give a shift.".into(),
        None => "No shift yet. Each of these would give one.".into(),
    };
    let unsaid = draft.answers.choice(Spot::of(Key::Crew)).is_none();
    if unsaid && !next.enough && draft.instrument.crew.climb {
        said.push_str(" Nothing that takes a climb is listed while it is not said how many you are.");
    }
    if draft.answers.choice(Spot::of(Key::Crew)) == Some(Choice::Alone) && !next.enough {
        said.push_str(" You are alone: nobody climbs.");
    }
    said
}

fn proposal(of: &Proposal, now: Option<Length>, show: &Show<'_>, joined: bool) -> ProposalView {
    let then = show.small(of.then);
    let gain = now
        .map_or_else(|| format!("± {then} then"), |now| format!("± {} now, ± {then} then", show.small(now)));
    let climbs = matches!(of.measure, Measure::Dip(_) | Measure::Drop(_) | Measure::RiserByTape);
    let mut says = String::new();
    if of.settles {
        says.push_str("It would tell which of the two is wrong. ");
    }
    if climbs {
        says.push_str("Only under the site's rules and permit for work at height.");
    }
    if of.measure == Measure::Vented && joined {
        says.push_str(
            "Only on a cold, harmless service whose cell can be shut off, by the site's own order of valves.",
        );
    } else if of.measure == Measure::Vented {
        says.push_str("Only on a cold, harmless service that can be isolated, without seals.");
    }
    ProposalView {
        what: if joined && of.measure == Measure::Vented {
            "Take an equalised zero".into()
        } else {
            what(&of.measure)
        },
        gain,
        effort: format!("about {:.0} min", of.measure.effort().get::<minute>()),
        says: says.trim_end().to_owned(),
        change: change(&of.measure),
    }
}

fn what(measure: &Measure) -> String {
    let with = |tape: &str| if tape.is_empty() { String::new() } else { format!(" with {tape}") };
    match measure {
        Measure::ReadOffset => "Read the offset on the unit".into(),
        Measure::Temperature => "Measure the liquid's temperature".into(),
        Measure::LongerSeries => "Read the display ten times more".into(),
        Measure::KnownEmpty => "See that the tank is empty to its sill".into(),
        Measure::Dip(tape) => format!("Dip three times from the floor{}", with(tape)),
        Measure::Drop(tape) => format!("Drop three times from the hatch{}", with(tape)),
        Measure::Overflow => "See how the overflow runs".into(),
        Measure::Other(name) => format!("Read {name}"),
        Measure::RiserByLaser => "Measure the riser with a laser, from the ground".into(),
        Measure::RiserByTape => "Measure the riser with a tape".into(),
        Measure::Vented => "Make a vented check".into(),
    }
}

fn change(measure: &Measure) -> Change {
    match measure.adds() {
        Some(kind) => Change::Add { kind, timing: Timing::Before },
        None => Change::Go { step: Step::AsFound },
    }
}

/// Returns the moving target in words.
pub(crate) fn target(target: &Target, assessment: &Assessment, offset_minutes: i16) -> TargetView {
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    TargetView {
        at: when::second(target.at, offset_minutes),
        from: show.reading(target.from),
        to: show.reading(target.to),
        by: show.change(target.by),
        sure: format!("± {} (95\u{a0}%)", show.uncertainty(target.expanded)),
        a_minute: show.change(target.a_minute),
    }
}
