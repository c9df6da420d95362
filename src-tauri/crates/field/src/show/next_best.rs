//! What to measure next, and the target that moves, in words.

use domain::visit::{
    Assessment, Choice, Climb, Draft, Key, Measure, NextBest, Proposal, Show, Spot, Step, Target, Timing,
    climb, equalised,
};
use uom::si::f64::Length;
use uom::si::time::minute;

use crate::message;
use crate::view::{Change, MeasureNextView, ProposalView, TargetView};
use crate::when;

/// Returns what to measure next, on the steps where it can still be measured.
pub(super) fn measure_next(draft: &Draft, assessment: &Assessment) -> Option<MeasureNextView> {
    let here = matches!(draft.step, Step::Evidence | Step::Shift);
    let next = here.then(|| assessment.next_best(draft)).flatten()?;
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    let here = Here {
        show: &show,
        joined: equalised(&draft.instrument),
        seals: assessment.known.between_seals(),
        ground: draft.instrument.crew.hatch_from_ground,
    };
    let proposals: Vec<ProposalView> =
        next.proposals.iter().map(|one| proposal(one, next.now, &here)).collect();
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
    if !next.enough {
        said.push_str(no_climb(draft));
    }
    said
}

/// Why nothing that takes a climb is listed, where that is not plain from the register.
fn no_climb(draft: &Draft) -> &'static str {
    match climb(draft) {
        Climb::NotSaid if draft.instrument.crew.climb => {
            " Nothing that takes a climb is listed while it is not said how many you are."
        }
        Climb::Unanswered => {
            " Nothing that takes a climb is listed while Make safe has no answer about height, wind, ice and lightning."
        }
        Climb::RuledOut => {
            " Nothing that takes a climb is listed: at Make safe height was said not to apply."
        }
        _ if draft.answers.choice(Spot::of(Key::Crew)) == Some(Choice::Alone) => {
            " You are alone: nobody climbs."
        }
        _ => "",
    }
}

/// What the words of a proposal hang on.
struct Here<'a> {
    show: &'a Show<'a>,
    /// The check of the zero is made with both sides of the cell joined.
    joined: bool,
    /// The height that is measured goes from seal to seal.
    seals: bool,
    /// The hatch is reached from the ground.
    ground: bool,
}

fn proposal(of: &Proposal, now: Option<Length>, here: &Here<'_>) -> ProposalView {
    let (show, joined) = (here.show, here.joined);
    let then = show.small(of.then);
    let gain = now
        .map_or_else(|| format!("± {then} then"), |now| format!("± {} now, ± {then} then", show.small(now)));
    let climbs = match of.measure {
        Measure::Dip(_) | Measure::Drop(_) => !here.ground,
        ref other => *other == Measure::RiserByTape,
    };
    let mut says = String::new();
    if of.settles {
        says.push_str("It would tell which of the two is wrong. ");
    }
    if climbs {
        says.push_str("Only under the site's rules and permit for work at height, never in high wind, ice or lightning.");
    }
    if of.measure == Measure::Vented && joined {
        says.push_str(
            "Only on a cold, harmless service whose cell can be shut off, by the site's own order of valves.",
        );
    } else if of.measure == Measure::Vented {
        says.push_str("Only on a cold, harmless service that can be isolated, without seals.");
    }
    ProposalView {
        what: what(&of.measure, here),
        gain,
        effort: format!("about {:.0} min", of.measure.effort().get::<minute>()),
        says: says.trim_end().to_owned(),
        change: change(&of.measure),
    }
}

fn what(measure: &Measure, here: &Here<'_>) -> String {
    let height = if here.seals { "height from seal to seal" } else { "riser" };
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
        Measure::RiserByLaser => format!("Measure the {height} with a laser, from the ground"),
        Measure::RiserByTape => format!("Measure the {height} with a tape"),
        Measure::Vented if here.joined => "Take an equalised zero".into(),
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
        read_again: target.read_again.as_ref().map(message::plain),
    }
}
