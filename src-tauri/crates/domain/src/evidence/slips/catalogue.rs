//! Every slip that is tried.
//!
//! The weights say how common a slip is against the others; they only settle what the numbers leave open (common
//! practice, no source).

use uom::si::f64::Length;

use super::super::{Case, InputId};
use super::change::Change;
use super::{ByRegister, Cause, Measure, Scene, beside, length, reading};

/// A slip with how common it is and what it would have done, undone.
pub(super) struct Tried {
    pub(super) cause: Cause,
    pub(super) weight: f64,
    pub(super) change: Change,
}

impl Tried {
    pub(super) fn new(cause: Cause, weight: f64, change: Change) -> Tried {
        Tried { cause, weight, change }
    }
}

/// Returns every slip that can be in these numbers.
pub(super) fn catalogue(case: &Case, scene: &Scene) -> Vec<Tried> {
    let mut tried = offset(case, scene);
    tried.extend(reading::of_the_display(case, scene));
    tried.extend(reading::of_the_line(case, scene));
    tried.extend(beside::of_the_mounting(case, scene));
    tried.extend(length::of_the_tapes(case, scene));
    tried.extend(register(scene));
    tried
}

/// The value of an input as given, in SI.
pub(super) fn given(case: &Case, input: InputId) -> f64 {
    case.inputs.get(input.0).map_or(0.0, |input| input.value)
}

fn offset(case: &Case, scene: &Scene) -> Vec<Tried> {
    let Some((input, on_record)) = scene.offset else { return Vec::new() };
    let value = given(case, input);
    let mut tried = vec![
        Tried::new(Cause::OffsetSign, 3.0, Change::step(input, -2.0 * value)),
        Tried::new(Cause::OffsetTwice, 1.5, Change::step(input, value)),
        Tried::new(Cause::OffsetMissing, 1.5, Change::step(input, -value)),
    ];
    tried.extend(scene.units.iter().map(|(unit, ratio)| {
        let change = Change::step(input, value * (ratio - 1.0)).by_ratio(*ratio);
        Tried::new(Cause::OffsetUnit { unit }, 2.0, change)
    }));
    if on_record {
        let most = 1.5 * scene.standing.value.abs();
        tried.push(Tried::new(Cause::OffsetChanged, 3.0, Change::slide([(input, 1.0)], -most, most)));
    }
    tried
}

/// How far a transmitter, tap or seal may at least stand from where the register has it, either side, in metres.
const TAP: f64 = 1.0;
/// How far from its place a probe may hang, either side, in metres.
const HANGS: f64 = 2.0;
/// Another instrument's standing head is another by this much at least, either side, in metres of level.
const OTHER_HEAD: f64 = 3.0;

fn register(scene: &Scene) -> Vec<Tried> {
    let Some(register) = &scene.register else { return Vec::new() };
    let movable = || register.heights.iter().filter(|one| !one.agreed);
    // Heights of one row are written in one unit, and stand beside each other in its drawing: one alone in another is rare.
    let unit = if register.heights.len() > 1 { 0.003 } else { 0.3 };
    let mut tried: Vec<Tried> = movable()
        .flat_map(|one| {
            length::times().map(|times| {
                let change = Change::step(one.input, one.height.value * (times - 1.0)).by_ratio(times);
                Tried::new(Cause::RegisterUnit { measure: one.measure, times }, unit, change)
            })
        })
        .collect();
    tried.extend(movable().map(|one| elsewhere(scene, one)));
    let half = (0.5 * scene.standing.value.abs()).max(OTHER_HEAD * scene.per_metre.value);
    let other = if scene.other_serial { 100.0 } else { 0.2 };
    tried.push(Tried::new(Cause::OtherInstrument, other, Change::slide([(register.head, 1.0)], -half, half)));
    tried
}

/// A height that is not the register's.
fn elsewhere(scene: &Scene, one: &ByRegister) -> Tried {
    let slide = |half: f64| Change::slide([(one.input, 1.0)], -half, half);
    match one.measure {
        Measure::Riser if scene.hangs => {
            Tried::new(Cause::ProbeDepth { by: Length::default() }, 3.0, slide(HANGS))
        }
        Measure::Riser => Tried::new(Cause::RiserUnlike, 0.5, slide((0.5 * one.height.value.abs()).max(TAP))),
        Measure::Top | Measure::Tap => Tried::new(Cause::RiserUnlike, 0.3, slide(TAP)),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::{Length, Pressure};
    use uom::si::length::meter;
    use uom::si::pressure::pascal;

    use super::super::super::{Input, Spread};
    use super::super::Register;
    use super::*;

    /// A riser of 20 m by the register, 10 000 Pa a metre, a display whose unit is taken for one twelve times as large, and
    /// an offset of -200 000 Pa.
    fn tower(on_record: bool, other_serial: bool) -> (Case, Scene) {
        let mut case = Case::new();
        let spread = Spread::Standard(Pressure::new::<pascal>(1.0));
        let offset = case.input(Input::pressure("offset", Pressure::new::<pascal>(-200_000.0), spread));
        let height = Length::new::<meter>(20.0);
        let spread = Spread::Standard(Length::new::<meter>(0.01));
        let input = case.input(Input::length("riser", height, spread));
        let head = case.input(Input::pressure("standing head", Pressure::default(), Spread::Exact));
        let riser = ByRegister { input, measure: Measure::Riser, height, agreed: false };
        let scene = Scene {
            offset: Some((offset, on_record)),
            register: Some(Register { head, heights: vec![riser] }),
            units: vec![("ft", 12.0)],
            other_serial,
            ..Scene::riser(height, Pressure::new::<pascal>(10_000.0))
        };
        (case, scene)
    }

    fn changes(tried: Vec<Tried>) -> Vec<(Cause, Change)> {
        tried.into_iter().map(|tried| (tried.cause, tried.change)).collect()
    }

    #[test]
    fn each_slip_in_an_offset_is_undone() {
        let (case, scene) = tower(true, false);
        let (input, _) = scene.offset.unwrap();
        let step = |by| Change::step(input, by);
        let expected = [
            (Cause::OffsetSign, step(400_000.0)),
            (Cause::OffsetTwice, step(-200_000.0)),
            (Cause::OffsetMissing, step(200_000.0)),
            // Twelve times as much: eleven times as much more.
            (Cause::OffsetUnit { unit: "ft" }, step(-2_200_000.0).by_ratio(12.0)),
            // Half as much again as the standing head, either way.
            (Cause::OffsetChanged, Change::slide([(input, 1.0)], -300_000.0, 300_000.0)),
        ];
        assert_eq!(changes(offset(&case, &scene)), expected);
        let (case, scene) = tower(false, false);
        assert_eq!(changes(offset(&case, &scene)), expected[..4], "read today, it was not changed since");
    }

    #[test]
    fn the_registers_riser_and_its_head_may_be_another_by_half_of_it_either_way() {
        let (_, scene) = tower(true, false);
        let register_of = scene.register.as_ref().unwrap();
        let (riser, head) = (register_of.heights[0].input, register_of.head);
        let tried = changes(register(&scene));
        assert_eq!(
            tried[4..],
            [
                (Cause::RiserUnlike, Change::slide([(riser, 1.0)], -10.0, 10.0)),
                (Cause::OtherInstrument, Change::slide([(head, 1.0)], -100_000.0, 100_000.0)),
            ]
        );
        // In feet, and twelve times as much: 20 m more or less.
        let unit = |times: f64| Change::step(riser, 20.0 * times - 20.0).by_ratio(times);
        let twelve = Cause::RegisterUnit { measure: Measure::Riser, times: 12.0 };
        assert!(tried.contains(&(twelve, unit(12.0))), "{tried:?}");
        assert_eq!(tried.len(), 6);
    }

    #[test]
    fn a_probe_hangs_elsewhere_and_what_is_agreed_stands() {
        let (_, mut scene) = tower(true, false);
        scene.hangs = true;
        let codes = |scene: &Scene| -> Vec<&str> {
            register(scene)
                .iter()
                .map(|tried| tried.cause.code())
                .filter(|code| *code != "register_unit")
                .collect()
        };
        assert_eq!(codes(&scene), ["probe_depth", "other_instrument"]);
        let heights = &mut scene.register.as_mut().unwrap().heights;
        heights[0].agreed = true;
        assert_eq!(codes(&scene), ["other_instrument"]);
    }

    #[test]
    fn another_serial_makes_another_instrument_likeliest() {
        let weight = |other| {
            let (_, scene) = tower(true, other);
            register(&scene).into_iter().find(|tried| tried.cause == Cause::OtherInstrument).unwrap().weight
        };
        assert!(weight(true) > 10.0 && weight(false) < 1.0);
    }

    /// Of a register with one height that one may well be in another unit; of one with two, hardly.
    #[rstest]
    #[case::alone(1, 0.3)]
    #[case::beside_another(2, 0.003)]
    fn heights_of_one_row_are_written_in_one_unit(#[case] heights: usize, #[case] weight: f64) {
        let (_, mut scene) = tower(true, false);
        let known = &mut scene.register.as_mut().unwrap().heights;
        *known = vec![known[0]; heights];
        let weights: Vec<f64> = register(&scene)
            .iter()
            .filter(|tried| tried.cause.code() == "register_unit")
            .map(|tried| tried.weight)
            .collect();
        assert_eq!(weights, vec![weight; 4 * heights]);
    }

    /// Half of a standing head of 20 000 Pa is less than three metres of 10 000 Pa, half of one of 90 000 Pa is more. What a
    /// record's offset was changed by is no more than half as much again as the head.
    #[rstest]
    #[case::small(-20_000.0, 30_000.0, 30_000.0)]
    #[case::large(-90_000.0, 45_000.0, 135_000.0)]
    fn another_head_is_half_of_it_or_three_metres(
        #[case] standing: f64,
        #[case] other: f64,
        #[case] changed: f64,
    ) {
        let (case, mut scene) = tower(true, false);
        scene.standing = Pressure::new::<pascal>(standing);
        let (head, (offset_input, _)) = (scene.register.as_ref().unwrap().head, scene.offset.unwrap());
        let last = changes(register(&scene)).pop().unwrap();
        assert_eq!(last, (Cause::OtherInstrument, Change::slide([(head, 1.0)], -other, other)));
        let last = changes(offset(&case, &scene)).pop().unwrap();
        assert_eq!(last, (Cause::OffsetChanged, Change::slide([(offset_input, 1.0)], -changed, changed)));
    }

    /// Half of a riser of 1.5 m is less than a metre; a tap or a top may stand a metre off whatever its height.
    #[rstest]
    #[case::short_riser(Measure::Riser, 1.5, 1.0)]
    #[case::riser(Measure::Riser, 3.0, 1.5)]
    #[case::top(Measure::Top, 9.0, 1.0)]
    #[case::tap(Measure::Tap, 9.0, 1.0)]
    fn a_height_is_another_by_half_or_a_metre(
        #[case] measure: Measure,
        #[case] height: f64,
        #[case] half: f64,
    ) {
        let (_, scene) = tower(true, false);
        let one = ByRegister {
            measure,
            height: Length::new::<meter>(height),
            ..scene.register.as_ref().unwrap().heights[0]
        };
        let tried = elsewhere(&scene, &one);
        assert_eq!(tried.cause, Cause::RiserUnlike);
        assert_eq!(tried.change, Change::slide([(one.input, 1.0)], -half, half));
    }
}
