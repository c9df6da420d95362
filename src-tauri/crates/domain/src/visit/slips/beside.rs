//! What stands beside the liquid of a mounting, or between it and the sensor, as the slips need it.

use uom::si::f64::{Length, Pressure, Ratio};
use uom::si::length::meter;
use uom::si::ratio::{percent, ratio};

use super::find::Visit;
use crate::evidence::slips::{Leg, Reach};
use crate::head::Way;
use crate::head::mounting::{Medium, Mounting};
use crate::head::standard_atmosphere;
use crate::visit::conditions::Conditions;
use crate::visit::flow::{self, Flow, Waterway};
use crate::visit::known::Known;
use crate::visit::{Choice, Draft, Key, Spot, When};

/// What flow in a riser that nobody has described may do at its foot, either way, in metres of liquid: some 2 m/s over twenty
/// metres of pipe. Common practice, no source.
const FLOW: f64 = 1.0;
/// A riser through which nobody has said that a tank is drawn or filled carries no flow, mostly.
const NOT_DESCRIBED: f64 = 0.15;

/// Highs and lows of the weather, and what an altitude leaves open.
pub(super) fn weather() -> Ratio {
    Ratio::new::<percent>(4.0)
}

/// Returns how far the tank's liquid stands below the zero: in its line, or down to a probe or a seal.
pub(super) fn under(known: &Known) -> Length {
    let mounting = &known.mounted.mounting;
    mounting.tap().map_or(known.riser, |tap| -tap)
}

/// Returns what a metre of the liquid itself presses, less the gas it takes the place of.
pub(super) fn liquid(conditions: &Conditions) -> Pressure {
    a_metre(conditions, Medium::Process, &[Medium::Vapour, Medium::Air])
}

/// What a metre of a medium presses, less what would stand in its place.
fn a_metre(conditions: &Conditions, of: Medium, instead: &[Medium]) -> Pressure {
    let densities = conditions.installed.densities();
    let over = instead.iter().find_map(|medium| densities.of(*medium)).unwrap_or_default();
    let own = densities.of(of).unwrap_or_default();
    (own - over) * conditions.gravity * Length::new::<meter>(1.0)
}

/// Returns the leg on the low side.
pub(super) fn leg(known: &Known, conditions: &Conditions) -> Option<Leg> {
    let lost = |instead: Medium| a_metre(conditions, Medium::Fill, &[instead]);
    let (dry, top, per_metre) = match known.mounted.mounting {
        // What gathers there has condensed from the vessel's liquid.
        Mounting::DryLeg { top, .. } => (true, top, liquid(conditions)),
        Mounting::WetLeg { top, .. } => (false, top, lost(Medium::Vapour)),
        Mounting::Interface { top, .. } => (false, top, lost(Medium::Light)),
        _ => return None,
    };
    Some(Leg { dry, height: top + known.riser, per_metre })
}

/// Returns what the weather may have left behind a vent that is shut, by how it was found today.
pub(super) fn vent(draft: &Draft, known: &Known) -> Option<Reach> {
    if known.mounted.mounting.is_closed() {
        return None;
    }
    let hangs = matches!(known.mounted.mounting, Mounting::Probe { .. });
    let weight = match draft.answers.choice(Spot::of(Key::VentLooked)) {
        Some(Choice::VentClear) => 0.1,
        Some(Choice::VentBlocked) => 5.0,
        // A probe's vent runs through its cable, where nobody sees it.
        _ if hangs => 2.0,
        _ => 0.5,
    };
    let most = standard_atmosphere(known.altitude).ok()? * weather().get::<ratio>();
    Some(Reach { least: -most, most, weight })
}

/// Returns what flow in the riser may do, by what was said of it.
pub(super) fn flow(visit: &Visit<'_>) -> Option<Reach> {
    let Visit { draft, known, conditions, entries } = visit;
    if !known.may_flow() {
        return None;
    }
    let state = flow::state(draft, known, entries, When::Found);
    // What was said of it is taken off already.
    let felt = flow::effect(draft, known, conditions, entries, When::Found)
        .filter(|_| matches!(state, Flow::Runs { .. }));
    let (least, most, common) = match Waterway::of(known, conditions) {
        Some(way) => (way.at_most(Way::Drawing), way.at_most(Way::Filling), 1.0),
        None => {
            let some = conditions.gradient.pressure(Length::new::<meter>(FLOW));
            (-some, some, NOT_DESCRIBED)
        }
    };
    let weight = common
        * match state {
            Flow::Still => 0.3,
            Flow::Runs { .. } => 1.0,
            Flow::NotSaid | Flow::NotKnown => 4.0,
        };
    let felt = felt.unwrap_or_default().by;
    Some(Reach { least: least - felt, most: most - felt, weight })
}
