//! Slips of a mounting: what stands beside the liquid, or between it and the sensor, and what runs or leaks there.
//!
//! How far each may go is common practice, no source.

use uom::si::f64::{Length, Pressure, Ratio};

use super::super::{Case, InputId};
use super::catalogue::{Tried, given};
use super::change::Change;
use super::{Cause, Reach, Scene};

/// Densities, over what was taken, that fills of the trade have.
const FILLS: (f64, f64) = (0.75, 1.3);
/// How much of a full leg is lost before the display is off by more than anybody takes for a level.
const MOST_LOST: f64 = 0.5;

/// Returns the slips that only some mountings have.
pub(super) fn of_the_mounting(case: &Case, scene: &Scene) -> Vec<Tried> {
    let mut tried: Vec<Tried> = [leg(scene), fill(case, scene)].into_iter().flatten().collect();
    let under_head = || scene.readings.iter().map(|shown| shown.input);
    // The weather behind a shut vent is in the vented reading too; no flow is.
    let all = || under_head().chain(scene.vented.iter().copied());
    let none = Pressure::default();
    tried.extend(scene.vent.map(|reach| added(Cause::VentShut { by: none }, all(), reach)));
    tried.extend(scene.flow.map(|reach| added(Cause::Flow { by: none }, under_head(), reach)));
    tried
}

/// A full leg that lost liquid presses less on the low side, so the display is high; a dry one that gathered some presses
/// more, so it is low.
fn leg(scene: &Scene) -> Option<Tried> {
    let leg = scene.leg?;
    let (cause, sign, most) = if leg.dry {
        (Cause::LegWet { height: Length::default() }, 1.0, 1.0)
    } else {
        (Cause::LegShort { height: Length::default() }, -1.0, MOST_LOST)
    };
    let metre = sign * leg.per_metre.value;
    let slides = scene.readings.iter().map(|shown| (shown.input, metre));
    Some(Tried::new(cause, 6.0, Change::slide(slides, 0.0, most * leg.height.value)))
}

fn fill(case: &Case, scene: &Scene) -> Option<Tried> {
    let input = scene.fill?;
    let (light, heavy) = FILLS;
    let change = Change::slide([(input, given(case, input))], light - 1.0, heavy - 1.0);
    Some(Tried::new(Cause::FillDensity { times: Ratio::default() }, 6.0, change))
}

/// A pressure that stands in every one of some readings, and is taken off them.
fn added(cause: Cause, readings: impl Iterator<Item = InputId>, reach: Reach) -> Tried {
    let slides = readings.map(|input| (input, 1.0));
    let change = Change::slide(slides, -reach.most.value, -reach.least.value);
    Tried::new(cause, reach.weight, change)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::{Length, MassDensity, Pressure};
    use uom::si::length::meter;
    use uom::si::mass_density::kilogram_per_cubic_meter;
    use uom::si::pressure::pascal;

    use super::super::super::{Input, Spread};
    use super::super::{Leg, Shown};
    use super::*;

    fn pascals(value: f64) -> Pressure {
        Pressure::new::<pascal>(value)
    }

    fn metres(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    /// One reading under head and one vented, under a line of 4 m.
    fn made() -> (Case, Scene, InputId, InputId) {
        let mut case = Case::new();
        let mut shown = |label| case.input(Input::pressure(label, pascals(0.0), Spread::Exact));
        let (display, vented) = (shown("display"), shown("vented"));
        let scene = Scene {
            readings: vec![Shown { input: display, level: Some(metres(1.0)), empty: false }],
            vented: vec![vented],
            ..Scene::riser(metres(4.0), pascals(10_000.0))
        };
        (case, scene, display, vented)
    }

    #[rstest]
    // Half a metre lost of a leg of 10 000 Pa a metre shows 5000 Pa too much; of its 9 m half may go, or all be filled.
    #[case::lost(false, "leg_short", -10_000.0, 4.5)]
    #[case::gathered(true, "leg_wet", 10_000.0, 9.0)]
    fn a_leg_is_in_the_readings_under_head(
        #[case] dry: bool,
        #[case] code: &str,
        #[case] metre: f64,
        #[case] most: f64,
    ) {
        let (case, mut scene, display, _) = made();
        scene.leg = Some(Leg { dry, height: metres(9.0), per_metre: pascals(10_000.0) });
        let tried = of_the_mounting(&case, &scene);
        assert_eq!(tried.len(), 1);
        assert_eq!(tried[0].cause.code(), code);
        assert_eq!(tried[0].change, Change::slide([(display, metre)], 0.0, most));
    }

    #[test]
    fn a_fill_is_lighter_by_a_quarter_or_heavier_by_three_tenths() {
        let (mut case, mut scene, _, _) = made();
        let density = MassDensity::new::<kilogram_per_cubic_meter>(1000.0);
        let input = case.input(Input::density("fill", density, Spread::Exact));
        scene.fill = Some(input);
        let tried = of_the_mounting(&case, &scene);
        assert_eq!(tried[0].cause.code(), "fill_density");
        assert_eq!(tried[0].change, Change::slide([(input, 1000.0)], -0.25, 1.3 - 1.0));
    }

    #[test]
    fn a_shut_vent_is_in_the_vented_reading_too_and_flow_is_not() {
        let (case, mut scene, display, vented) = made();
        let reach = Reach { least: pascals(-300.0), most: pascals(200.0), weight: 1.0 };
        (scene.vent, scene.flow) = (Some(reach), Some(reach));
        let tried = of_the_mounting(&case, &scene);
        let changes: Vec<_> = tried.iter().map(|tried| (tried.cause.code(), tried.change.clone())).collect();
        assert_eq!(
            changes,
            [
                ("vent_shut", Change::slide([(display, 1.0), (vented, 1.0)], -200.0, 300.0)),
                ("flow", Change::slide([(display, 1.0)], -200.0, 300.0)),
            ]
        );
    }
}
