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
/// How much of a line up to a transmitter above the tank air fills before it is noticed otherwise.
const MOST_AIR_ABOVE: f64 = 0.5;
/// How much of a riser runs dry before nobody would call it full.
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
        let alone = Change::steps(all.iter().map(scaled)).by_ratio(*times).of_known();
        tried.push(Tried::new(Cause::DisplayUnit { unit, part: Part::Readings }, 1.5, alone));
        if let Some((offset, _)) = scene.offset {
            let both = all.iter().chain([&offset]).map(scaled);
            let both = Change::steps(both).by_ratio(*times).of_known();
            tried.push(Tried::new(Cause::DisplayUnit { unit, part: Part::All }, 1.5, both));
        }
    }
    if scene.gauge {
        let weather = scene.weather.get::<ratio>();
        let air = all.iter().map(|input| (*input, -scene.barometer.value));
        tried.push(Tried::new(Cause::Absolute, 1.5, Change::slide(air, 1.0 - weather, 1.0 + weather)));
    }
    tried
}

/// What happened between the water and the sensor.
pub(super) fn of_the_line(case: &Case, scene: &Scene) -> Vec<Tried> {
    let liquid = scene.liquid.value;
    let mut tried = Vec::new();
    let line = scene.line.map_or(0.0, |line| line.get::<meter>());
    // A line up to a transmitter above the zero pulls: what air takes the place of is missed there, and the display is high.
    let missing = liquid * if line < 0.0 { -1.0 } else { 1.0 };
    if line != 0.0 {
        let whole = under_head(scene, |_| missing);
        let most = if line < 0.0 { MOST_AIR_ABOVE } else { MOST_AIR };
        let weight = if scene.leg.is_some() && scene.bled { 0.5 } else { 3.0 };
        tried.push((Cause::Air { height: Length::default() }, weight, whole, (0.0, most * line.abs())));
    }
    // A line that leads to the transmitter alone does not run dry with its vessel; a riser that is drawn through does.
    if line > 0.0 && scene.leg.is_none() {
        let empties: Vec<(InputId, f64)> =
            scene.readings.iter().filter(|shown| shown.empty).map(|shown| (shown.input, liquid)).collect();
        if !empties.is_empty() {
            let drained = Cause::Drained { height: Length::default() };
            tried.push((drained, 4.0, empties, (0.0, MOST_DRAINED * line)));
        }
    }
    let below = scene.under.get::<meter>();
    let head = under_head(scene, |at| liquid * (below + level(scene, at)));
    let (light, heavy) = DENSITIES;
    let density = Cause::Density { times: Ratio::default() };
    // Beside a leg the vessel's liquid is the shorter lever, and the one that is looked after.
    let weight = if scene.leg.is_some() { 0.3 } else { 1.0 };
    tried.push((density, weight, head, (1.0 / heavy - 1.0, 1.0 / light - 1.0)));
    // With both sides of a cell joined, a stub presses on both alike.
    if let ([vented], true) = (scene.vented.as_slice(), scene.gauge) {
        let stub = Cause::StubLeft { height: Length::default() };
        tried.push((stub, 2.0, vec![(*vented, -liquid)], (0.0, MOST_STUB)));
    }
    let mut tried: Vec<Tried> = tried
        .into_iter()
        .map(|(cause, weight, slides, (from, to))| Tried::new(cause, weight, Change::slide(slides, from, to)))
        .collect();
    tried.extend(of_the_slope(case, scene));
    tried
}

/// What only shows where the display was read at two levels.
fn of_the_slope(case: &Case, scene: &Scene) -> Vec<Tried> {
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
    let room = scene.standing.value.abs().max(5.0 * scene.per_metre.value);
    let felt = under_head(scene, |at| scene.standing.value + scene.per_metre.value * level(scene, at));
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
        Tried::new(scaled(), 0.5, Change::slide(felt, across.0, across.1)),
    ]
}

/// So much for each reading under head.
fn under_head(scene: &Scene, part: impl Fn(usize) -> f64) -> Vec<(InputId, f64)> {
    scene.readings.iter().enumerate().map(|(at, shown)| (shown.input, part(at))).collect()
}

fn level(scene: &Scene, at: usize) -> f64 {
    scene.readings.get(at).and_then(|shown| shown.level).unwrap_or_default().get::<meter>()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::Pressure;
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

    /// Readings of 50 000 Pa at 1 m and 70 000 Pa at 3 m, one of 500 Pa at atmosphere and an offset of -40 000 Pa, under a
    /// line of 4 m and a liquid that presses 10 000 Pa a metre.
    struct Made {
        case: Case,
        scene: Scene,
        readings: [InputId; 2],
        vented: InputId,
        offset: InputId,
    }

    fn made() -> Made {
        let mut case = Case::new();
        let mut shown = |label, value| case.input(Input::pressure(label, pascals(value), Spread::Exact));
        let readings = [shown("low", 50_000.0), shown("high", 70_000.0)];
        let (vented, offset) = (shown("vented", 500.0), shown("offset", -40_000.0));
        let at = |input, level| Shown { input, level: Some(metres(level)), empty: false };
        let scene = Scene {
            readings: vec![at(readings[0], 1.0), at(readings[1], 3.0)],
            vented: vec![vented],
            offset: Some((offset, true)),
            ..Scene::riser(metres(4.0), pascals(10_000.0))
        };
        Made { case, scene, readings, vented, offset }
    }

    fn changes(tried: Vec<Tried>) -> Vec<(&'static str, f64, Change)> {
        tried.into_iter().map(|tried| (tried.cause.code(), tried.weight, tried.change)).collect()
    }

    fn one(tried: Vec<Tried>, code: &str) -> (f64, Change) {
        let mut found = changes(tried).into_iter().filter(|(one, ..)| *one == code);
        let (_, weight, change) = found.next().unwrap_or_else(|| panic!("{code} is not tried"));
        assert!(found.next().is_none(), "{code} is tried twice");
        (weight, change)
    }

    fn weighs(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-12, "{found} where {expected} was expected");
    }

    fn holds(found: &Change, expected: &Change) {
        assert!(found.nearly(expected), "{found:?} where {expected:?} was expected");
    }

    #[test]
    fn a_display_in_another_unit_is_so_in_all_its_readings_and_perhaps_in_the_offset() {
        let Made { case, mut scene, readings: [low, high], vented, offset } = made();
        (scene.units, scene.gauge) = (vec![("ft", 12.0)], false);
        let tried = changes(of_the_display(&case, &scene));
        // Twelve times as much: eleven times as much more.
        let readings = [(low, 550_000.0), (high, 770_000.0), (vented, 5_500.0)];
        let all = [readings.as_slice(), &[(offset, -440_000.0)]].concat();
        assert_eq!(tried.len(), 2);
        for ((code, weight, change), steps) in tried.iter().zip([readings.to_vec(), all]) {
            assert_eq!((*code, *weight), ("display_unit", 1.5));
            holds(change, &Change::steps(steps).by_ratio(12.0).of_known());
        }
        scene.offset = None;
        assert_eq!(of_the_display(&case, &scene).len(), 1);
        (scene.readings, scene.vented, scene.gauge) = (Vec::new(), Vec::new(), true);
        assert_eq!(of_the_display(&case, &scene).len(), 0, "nothing was read");
    }

    #[test]
    fn an_absolute_sensor_shows_the_air_as_the_weather_has_it() {
        let Made { case, mut scene, readings: [low, high], vented, .. } = made();
        (scene.barometer, scene.weather) = (pascals(101_325.0), Ratio::new::<ratio>(0.03));
        let air = [(low, -101_325.0), (high, -101_325.0), (vented, -101_325.0)];
        let (weight, change) = one(of_the_display(&case, &scene), "absolute");
        assert!(weight > 0.0);
        holds(&change, &Change::slide(air, 0.97, 1.03));
        scene.gauge = false;
        assert_eq!(of_the_display(&case, &scene).len(), 0);
    }

    #[rstest]
    // A tenth of a riser of 4 m; half of a line of 6 m that goes up, whose air makes the display high.
    #[case::below(4.0, 10_000.0, 0.4)]
    #[case::above(-6.0, -10_000.0, 3.0)]
    fn air_takes_the_place_of_some_of_the_line(#[case] line: f64, #[case] metre: f64, #[case] most: f64) {
        let Made { case, mut scene, readings: [low, high], .. } = made();
        scene.line = Some(metres(line));
        let air = Change::slide([(low, metre), (high, metre)], 0.0, most);
        let (weight, change) = one(of_the_line(&case, &scene), "air");
        weighs(weight, 3.0);
        holds(&change, &air);
        scene.leg = Some(Leg { dry: false, height: metres(9.0), per_metre: pascals(10_000.0) });
        let weight = |scene: &Scene| one(of_the_line(&case, scene), "air").0;
        // Beside a leg, and bled today.
        weighs(weight(&scene), 0.5);
        scene.bled = false;
        weighs(weight(&scene), 3.0);
        scene.line = None;
        assert!(changes(of_the_line(&case, &scene)).iter().all(|(code, ..)| *code != "air"));
    }

    #[test]
    fn a_riser_runs_dry_only_where_the_tank_was_empty_and_nothing_holds_it() {
        let Made { case, mut scene, readings: [low, _], .. } = made();
        let drained = |scene: &Scene| -> Vec<(f64, Change)> {
            let tried = changes(of_the_line(&case, scene)).into_iter();
            tried
                .filter(|(code, ..)| *code == "drained")
                .map(|(_, weight, change)| (weight, change))
                .collect()
        };
        assert_eq!(drained(&scene), []);
        scene.readings[0].empty = true;
        let found = drained(&scene);
        assert_eq!((found.len(), found[0].0), (1, 4.0));
        // Three tenths of 4 m.
        holds(&found[0].1, &Change::slide([(low, 10_000.0)], 0.0, 1.2));
        let leg = Leg { dry: true, height: metres(9.0), per_metre: pascals(10_000.0) };
        assert_eq!(
            drained(&Scene { leg: Some(leg), ..scene.clone() }),
            [],
            "a line to the transmitter alone"
        );
        assert_eq!(drained(&Scene { line: Some(metres(-4.0)), ..scene.clone() }), [], "a line that goes up");
        assert_eq!(drained(&Scene { line: None, ..scene }), [], "no line of the tank's liquid");
    }

    #[test]
    fn another_density_is_in_all_that_the_liquid_presses() {
        let Made { case, mut scene, readings: [low, high], .. } = made();
        // 4 m under the zero and 1 m or 3 m over it; from three tenths heavier to a quarter lighter than was taken.
        let head = [(low, 50_000.0), (high, 70_000.0)];
        let (weight, change) = one(of_the_line(&case, &scene), "density");
        weighs(weight, 1.0);
        holds(&change, &Change::slide(head, 1.0 / 1.3 - 1.0, 1.0 / 0.75 - 1.0));
        scene.leg = Some(Leg { dry: true, height: metres(9.0), per_metre: pascals(10_000.0) });
        weighs(one(of_the_line(&case, &scene), "density").0, 0.3);
    }

    #[test]
    fn a_stub_presses_on_one_vented_reading_where_the_other_side_is_air() {
        let Made { case, mut scene, vented, .. } = made();
        let (weight, change) = one(of_the_line(&case, &scene), "stub_left");
        weighs(weight, 2.0);
        holds(&change, &Change::slide([(vented, -10_000.0)], 0.0, 2.0));
        let none =
            |scene: &Scene| of_the_line(&case, scene).iter().all(|one| one.cause.code() != "stub_left");
        assert!(none(&Scene { gauge: false, ..scene.clone() }));
        scene.vented.push(vented);
        assert!(none(&scene));
    }

    #[test]
    fn how_the_display_follows_shows_at_two_levels() {
        let Made { case, mut scene, readings: [low, high], .. } = made();
        let tried = changes(of_the_slope(&case, &scene));
        // The level rose by 2 m, which presses 20 000 Pa.
        let rise = [(low, 0.0), (high, 20_000.0)];
        let all = [(low, 1.0), (high, 1.0)];
        let expected = [
            ("plugged", 2.0, Change::steps(rise)),
            // As much as the standing head of 40 000 Pa is less than five metres: those.
            ("plugged", 2.0, Change::steps(rise).sliding(all, -50_000.0, 50_000.0)),
            // Twice what is shown over the offset, the other way: of 90 000 and 110 000 Pa.
            ("reversed", 1.0, Change::steps([(low, -180_000.0), (high, -220_000.0)])),
            ("scaled", 1.0, Change::slide(rise, -3.0, 0.75)),
            // The standing head with what the level presses.
            ("scaled", 0.5, Change::slide([(low, 50_000.0), (high, 70_000.0)], -3.0, 0.75)),
        ];
        assert_eq!(tried.len(), expected.len());
        for ((code, weight, change), (its_code, its_weight, its_change)) in tried.iter().zip(&expected) {
            assert_eq!((code, weight), (its_code, its_weight));
            holds(change, its_change);
        }
        scene.standing = pascals(-200_000.0);
        let room = Change::steps(rise).sliding(all, -200_000.0, 200_000.0);
        holds(&changes(of_the_slope(&case, &scene))[1].2, &room);
    }

    #[rstest]
    // Within two centimetres it is one level.
    #[case::one_level(Some(1.019), 0)]
    #[case::two_levels(Some(1.021), 5)]
    #[case::below(Some(0.9), 5)]
    #[case::unknown(None, 0)]
    fn one_level_tells_nothing_of_the_slope(#[case] second: Option<f64>, #[case] count: usize) {
        let Made { case, mut scene, .. } = made();
        scene.readings[1].level = second.map(metres);
        assert_eq!(of_the_slope(&case, &scene).len(), count);
    }

    #[test]
    fn two_centimetres_are_one_level() {
        let Made { case, mut scene, .. } = made();
        for (second, count) in [(0.02, 0), (0.020_001, 5)] {
            scene.readings[0].level = Some(metres(0.0));
            scene.readings[1].level = Some(metres(second));
            assert_eq!(of_the_slope(&case, &scene).len(), count);
        }
    }
}
