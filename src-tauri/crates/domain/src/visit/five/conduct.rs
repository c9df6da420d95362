//! How a check is gone about: what can hurt, and what the sensor cannot take.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::asks::{at_hand, simulated, trimmed};
use super::rows::When;
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::{Draft, Key, Known, Remark, Show, Spot, Step};

/// Returns what stands on top of a step where a source is at hand. Common practice, no source; the site's own order
/// for its manifold, permits and licensed practice come first.
#[must_use]
pub fn cautions(draft: &Draft, known: &Known, conditions: &Conditions, step: Step) -> Vec<Remark> {
    let here = at_hand(draft) && (step == Step::AsFound || (step == Step::AsLeft && trimmed(draft)));
    if !here {
        return Vec::new();
    }
    let show = Show::new(known, conditions.gradient);
    let limits = &known.sensor.limits;
    vec![
        Remark::danger(
            "five_point.isolate",
            "Connect a pressure source only to an isolated, vented transmitter.",
            "Shut it off from the tank and vent it slowly, face turned away, in the site's own manifold order; permits and local rules come first.",
        ),
        Remark::danger(
            "five_point.over_range",
            format!(
                "Never over-range it: the sensor reads to {} and stands {} at most.",
                show.reading(limits.url),
                show.reading(limits.max_working)
            ),
            "Raise the pressure slowly, with the source's relief set below that; release it before you disconnect.",
        ),
        Remark::danger(
            "five_point.feeds_loop",
            "What you apply goes out on the loop.",
            "Control still in manual, alarms still inhibited, the control room told, before the first point.",
        ),
    ]
}

/// Tells whether a key belongs to the check.
#[must_use]
pub fn asked(key: Key) -> bool {
    matches!(
        key,
        Key::PressureSource
            | Key::SourceName
            | Key::SourceUncertainty
            | Key::AppliedAs
            | Key::MeterUncertainty
            | Key::SourceUnit
            | Key::CheckApplied
            | Key::CheckDisplay
            | Key::CheckCurrent
            | Key::CheckAppliedLeft
            | Key::CheckDisplayLeft
            | Key::CheckCurrentLeft
    )
}

/// Objects to what may not be applied, and to a source without uncertainty. A point outside the range is no point, and
/// its row says so; it stands in nobody's way.
pub(in crate::visit) fn object(draft: &Draft, known: &Known, conditions: &Conditions, entries: &mut Entries) {
    let source = Spot::of(Key::SourceUncertainty);
    if entries.reading(source).is_some_and(|(uncertainty, _)| uncertainty <= Pressure::new::<pascal>(0.0)) {
        let text = "No source is without uncertainty.";
        let remedy = "Write what its certificate states, such as 0.02 kPa or 0.05 %.";
        entries.object(source, Remark::impossible("five_point.uncertainty", text, remedy));
    }
    let applied = |spot: &Spot| [When::Found, When::Left].map(|when| when.keys().applied).contains(&spot.key);
    let spots: Vec<Spot> = entries.iter().map(|(spot, _)| spot).filter(applied).collect();
    let limits = &known.sensor.limits;
    let most = limits.url.min(limits.max_working);
    for spot in spots.into_iter().filter(|_| !simulated(draft)) {
        let beyond = entries.reading(spot).is_some_and(|(applied, _)| applied < limits.lrl || applied > most);
        if beyond {
            entries.object(spot, beyond_limits(known, conditions, most));
        }
    }
}

fn beyond_limits(known: &Known, conditions: &Conditions, most: Pressure) -> Remark {
    let show = Show::new(known, conditions.gradient);
    let least = show.number(known.sensor.limits.lrl);
    Remark::impossible(
        "five_point.beyond_limits",
        format!("The sensor's limits are {least} to {}: that much may not be applied.", show.reading(most)),
        "Check digits, sign and unit. Where it was applied, take the pressure off and have the sensor looked at.",
    )
}
