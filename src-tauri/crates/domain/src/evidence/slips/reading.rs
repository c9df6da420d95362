//! Slips in what the display shows, and in the line that leads to it.

use uom::si::f64::{Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

use super::super::{Case, InputId};
use super::catalogue::{Tried, given};
use super::change::Change;
use super::{Cause, Part, Scene};

/// How much of a riser air fills before it is noticed otherwise.
const MOST_AIR: f64 = 0.1;
/// How much of it runs dry before nobody would call it full.
const MOST_DRAINED: f64 = 0.3;
/// Densities, over what was taken, that the liquids of the trade have.
const DENSITIES: (f64, f64) = (0.75, 1.3);
/// What a scaling in another unit or range makes of the level's change.
const SCALES: (f64, f64) = (0.25, 4.0);
/// The most that is left standing in a stub, in metres.
const MOST_STUB: f64 = 2.0;
/// Levels closer than this, in metres, do not tell how the display follows.
const APART: f64 = 0.02;

/// Slips in the number itself.
pub(super) fn of_the_display(case: &Case, scene: &Scene) -> Vec<Tried> {
    let all: Vec<InputId> =
        scene.readings.iter().map(|shown| shown.input).chain(scene.vented.iter().copied()).collect();
    if all.is_empty() {
        return Vec::new();
    }
    let mut tried = Vec::new();
    for (unit, times) in &scene.units {
        let scaled = |input: &InputId| (*input, given(case, *input) * (times - 1.0));
        let alone = Change::steps(all.iter().map(scaled)).by_ratio(*times);
        tried.push(Tried::new(Cause::DisplayUnit { unit, part: Part::Readings }, 1.5, alone));
        if let Some((offset, _)) = scene.offset {
            let both = all.iter().chain([&offset]).map(scaled);
            let both = Change::steps(both).by_ratio(*times);
            tried.push(Tried::new(Cause::DisplayUnit { unit, part: Part::All }, 1.5, both));
        }
    }
    let weather = scene.weather.get::<ratio>();
    let air = all.iter().map(|input| (*input, -scene.barometer.value));
    tried.push(Tried::new(Cause::Absolute, 1.5, Change::slide(air, 1.0 - weather, 1.0 + weather)));
    tried
}

/// What happened between the water and the sensor.
pub(super) fn of_the_line(case: &Case, scene: &Scene) -> Vec<Tried> {
    let metre = scene.per_metre.value;
    let under = |part: &dyn Fn(usize) -> f64| -> Vec<(InputId, f64)> {
        scene.readings.iter().enumerate().map(|(at, shown)| (shown.input, part(at))).collect()
    };
    let mut tried = Vec::new();
    let riser = scene.riser.value;
    if riser > 0.0 {
        let whole = under(&|_| metre);
        tried.push((Cause::Air { height: Length::default() }, 3.0, whole, (0.0, MOST_AIR * riser)));
        let empties: Vec<(InputId, f64)> =
            scene.readings.iter().filter(|shown| shown.empty).map(|shown| (shown.input, metre)).collect();
        if !empties.is_empty() {
            let drained = Cause::Drained { height: Length::default() };
            tried.push((drained, 4.0, empties, (0.0, MOST_DRAINED * riser)));
        }
    }
    let head = under(&|at| metre * (riser + level(scene, at)));
    let (light, heavy) = DENSITIES;
    let density = Cause::Density { times: Ratio::default() };
    tried.push((density, 1.5, head.clone(), (1.0 / heavy - 1.0, 1.0 / light - 1.0)));
    if let [vented] = scene.vented.as_slice() {
        let stub = Cause::StubLeft { height: Length::default() };
        tried.push((stub, 2.0, vec![(*vented, -metre)], (0.0, MOST_STUB)));
    }
    let mut tried: Vec<Tried> = tried
        .into_iter()
        .map(|(cause, weight, slides, (from, to))| Tried::new(cause, weight, Change::slide(slides, from, to)))
        .collect();
    tried.extend(of_the_slope(case, scene, head));
    tried
}

/// What only shows where the display was read at two levels.
fn of_the_slope(case: &Case, scene: &Scene, head: Vec<(InputId, f64)>) -> Vec<Tried> {
    let known = scene.readings.iter().all(|shown| shown.level.is_some());
    let first = level(scene, 0);
    let rise = |at: usize| scene.per_metre.value * (level(scene, at) - first);
    let changes: Vec<(InputId, f64)> =
        scene.readings.iter().enumerate().map(|(at, shown)| (shown.input, rise(at))).collect();
    let moves = (0..scene.readings.len()).any(|at| (level(scene, at) - first).abs() > APART);
    if !known || !moves {
        return Vec::new();
    }
    let all = || scene.readings.iter().map(|shown| (shown.input, 1.0)).collect::<Vec<_>>();
    let held = Change::steps(changes.clone());
    let room = scene.per_metre.value * scene.riser.value.abs().max(5.0);
    let offset = scene.offset.map_or(0.0, |(input, _)| given(case, input));
    let turned = scene.readings.iter().map(|shown| (shown.input, -2.0 * (given(case, shown.input) - offset)));
    let (least, most) = SCALES;
    let scaled = || Cause::Scaled { times: Ratio::default() };
    let across = (1.0 - most, 1.0 - least);
    vec![
        Tried::new(Cause::Plugged, 2.0, held.clone()),
        Tried::new(Cause::Plugged, 2.0, held.sliding(all(), -room, room)),
        Tried::new(Cause::Reversed, 1.0, Change::steps(turned)),
        Tried::new(scaled(), 1.0, Change::slide(changes, across.0, across.1)),
        Tried::new(scaled(), 0.5, Change::slide(head, across.0, across.1)),
    ]
}

fn level(scene: &Scene, at: usize) -> f64 {
    scene.readings.get(at).and_then(|shown| shown.level).unwrap_or_default().get::<meter>()
}
