//! Slips with a tape.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::super::{Case, InputId};
use super::catalogue::{Tried, given};
use super::change::Change;
use super::{Cause, LENGTH_PAIRS, Mark, Scene, Tape, TapeWay};

/// How far a mark may be from where the register has it, either side, in metres.
const MARK: f64 = 0.012;
/// How far another instrument may be off before it is noticed otherwise, either side, in metres.
const INSTRUMENT_OFF: f64 = 1.0;

/// Returns the ratios by which lengths are mistaken.
pub(super) fn times() -> impl Iterator<Item = f64> {
    LENGTH_PAIRS.iter().flat_map(|(_, ratio)| [*ratio, 1.0 / ratio])
}

/// Returns the slips that can be in dips, drops and measured risers.
pub(super) fn of_the_tapes(case: &Case, scene: &Scene) -> Vec<Tried> {
    let lengths = scene.tapes.iter().map(|tape| tape.input).chain(scene.risers.iter().copied());
    let mut tried: Vec<Tried> = lengths.flat_map(|input| of_one(case, scene, input)).collect();
    tried.extend(scene.others.iter().flat_map(|input| of_another(case, *input)));
    tried.extend(scene.tapes.iter().flat_map(|tape| marks(case, scene, *tape)));
    tried
}

/// A level that another instrument tells.
fn of_another(case: &Case, input: InputId) -> Vec<Tried> {
    let mut tried = in_another_unit(case, input, 1.0);
    tried.push(Tried::new(
        Cause::OtherOff { input },
        0.3,
        Change::slide([(input, 1.0)], -INSTRUMENT_OFF, INSTRUMENT_OFF),
    ));
    tried
}

fn in_another_unit(case: &Case, input: InputId, weight: f64) -> Vec<Tried> {
    let value = given(case, input);
    let tried = times().map(|times| {
        let change = Change::step(input, value * (times - 1.0)).by_ratio(times);
        Tried::new(Cause::LengthUnit { input, times }, weight, change)
    });
    tried.collect()
}

fn of_one(case: &Case, scene: &Scene, input: InputId) -> Vec<Tried> {
    let round =
        scene.round.iter().flat_map(|by| [*by, -*by]).map(|by| {
            Tried::new(Cause::RoundStep { input, by }, 1.0, Change::step(input, by.get::<meter>()))
        });
    in_another_unit(case, input, 2.0).into_iter().chain(round).collect()
}

fn marks(case: &Case, scene: &Scene, tape: Tape) -> Vec<Tried> {
    let at = |mark: Mark| scene.marks.iter().find(|(one, _)| *one == mark).map(|(_, height)| *height);
    let own = match tape.way {
        TapeWay::Up => Mark::Floor,
        TapeWay::Down => Mark::Hatch,
    };
    let Some(from) = at(own) else { return Vec::new() };
    let input = tape.input;
    let near = |by: Length| Change::step(input, by.get::<meter>()).sliding([(input, 1.0)], -MARK, MARK);
    let others = scene.marks.iter().filter(|(mark, height)| *mark != own && *height != from);
    let mut tried: Vec<Tried> = others
        .map(|(mark, height)| {
            // Up: level = mark + dip instead of floor + dip. Down: level = mark - drop instead of hatch - drop.
            let by = if tape.way == TapeWay::Up { *height - from } else { from - *height };
            Tried::new(Cause::WrongMark { input, mark: *mark }, 1.0, near(by))
        })
        .collect();
    if let (Some(floor), Some(hatch)) = (at(Mark::Floor), at(Mark::Hatch)) {
        // Either way the level told and the level meant lie alike about the middle between floor and hatch.
        let by = hatch - floor - Length::new::<meter>(2.0 * given(case, input));
        tried.push(Tried::new(Cause::OtherWayUp { input }, 2.0, near(by)));
    }
    tried
}

#[cfg(test)]
mod tests {
    use uom::si::f64::{Length, Pressure};
    use uom::si::length::meter;
    use uom::si::pressure::pascal;

    use super::super::super::{Case, Input, InputId, Spread};
    use super::super::change::Change;
    use super::super::{Cause, Mark, Scene, Tape, TapeWay};
    use super::{of_the_tapes, times};

    fn metres(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    /// A case with one length, and what is around it: a floor at -0.5 m, a hatch mark at 9 m and an overflow crest at 8 m.
    fn made(value: f64) -> (Case, Scene, InputId) {
        let mut case = Case::new();
        let input = case.input(Input::length("length", metres(value), Spread::Exact));
        let marks =
            vec![(Mark::Floor, metres(-0.5)), (Mark::Hatch, metres(9.0)), (Mark::Overflow, metres(8.0))];
        let scene = Scene { marks, ..Scene::riser(metres(4.0), Pressure::new::<pascal>(10_000.0)) };
        (case, scene, input)
    }

    fn told(case: &Case, scene: &Scene) -> Vec<(Cause, f64, Change)> {
        of_the_tapes(case, scene).into_iter().map(|tried| (tried.cause, tried.weight, tried.change)).collect()
    }

    /// How much each unit that is mistaken for another moves a length of 2.5 m: to its feet, its metres, its inches.
    const MOVED: [f64; 4] = [2.5 / 0.3048 - 2.5, 2.5 * 0.3048 - 2.5, 27.5, 2.5 / 12.0 - 2.5];

    fn holds_units(told: &[(Cause, f64, Change)], input: InputId, weight: f64) {
        for ((cause, heavy, change), (times, by)) in told.iter().zip(times().zip(MOVED)) {
            assert_eq!((cause, *heavy), (&Cause::LengthUnit { input, times }, weight));
            let expected = Change::step(input, by).by_ratio(times);
            assert!(change.nearly(&expected), "{change:?} where {expected:?} was expected");
        }
    }

    #[test]
    fn lengths_are_mistaken_both_ways() {
        // Metres for feet, feet for metres, feet for inches, inches for feet.
        let expected = [1.0 / 0.3048, 0.3048, 12.0, 1.0 / 12.0];
        let found: Vec<f64> = times().collect();
        assert_eq!(found.len(), expected.len());
        assert!(
            found.iter().zip(expected).all(|(found, expected)| (found - expected).abs() < 1e-12),
            "{found:?}"
        );
    }

    #[test]
    fn a_measured_riser_is_in_another_unit_or_misread_by_a_round_length() {
        let (case, mut scene, input) = made(2.5);
        scene.risers = vec![input];
        scene.round = vec![metres(1.0), metres(0.1)];
        let told = told(&case, &scene);
        holds_units(&told, input, 2.0);
        let round: Vec<f64> = told[4..]
            .iter()
            .map(|(cause, weight, change)| {
                let Cause::RoundStep { by, .. } = cause else { panic!("{cause:?} is no round step") };
                assert_eq!((*weight, change), (1.0, &Change::step(input, by.value)));
                by.value
            })
            .collect();
        assert_eq!(round, [1.0, -1.0, 0.1, -0.1]);
    }

    #[test]
    fn another_instrument_is_in_another_unit_or_off_by_a_metre_either_way() {
        let (case, mut scene, input) = made(2.5);
        scene.others = vec![input];
        let told = told(&case, &scene);
        holds_units(&told, input, 1.0);
        let off = Change::slide([(input, 1.0)], -1.0, 1.0);
        assert_eq!(told[4..], [(Cause::OtherOff { input }, 0.3, off)]);
    }

    #[test]
    fn a_tape_hangs_from_another_mark_or_is_read_the_other_way() {
        // A dip of 2.5 m from the floor at -0.5 m tells 2.0 m. From the hatch at 9 m it would tell 9.5 m more, from the crest
        // at 8 m 8.5 m more; as a drop from the hatch it would tell 6.5 m, 4.5 m more. A drop of 2.5 m tells 6.5 m: from the
        // floor 9.5 m less, which a drop 9.5 m shorter would; as a dip 2.0 m, 4.5 m less.
        for way in [TapeWay::Up, TapeWay::Down] {
            let (case, mut scene, input) = made(2.5);
            scene.tapes = vec![Tape { input, way }];
            let told = told(&case, &scene);
            let near = |by: f64| Change::step(input, by).sliding([(input, 1.0)], -0.012, 0.012);
            let wrong = |mark| Cause::WrongMark { input, mark };
            let other = match way {
                TapeWay::Up => {
                    [(wrong(Mark::Hatch), 1.0, near(9.5)), (wrong(Mark::Overflow), 1.0, near(8.5))]
                }
                TapeWay::Down => {
                    [(wrong(Mark::Floor), 1.0, near(9.5)), (wrong(Mark::Overflow), 1.0, near(1.0))]
                }
            };
            assert_eq!(told[4..6], other, "{way:?}");
            assert_eq!(told[6..], [(Cause::OtherWayUp { input }, 2.0, near(4.5))], "{way:?}");
        }
    }

    #[test]
    fn a_tape_is_not_hung_from_its_own_mark_by_mistake_nor_from_one_that_nobody_knows() {
        let (case, mut scene, input) = made(2.5);
        scene.tapes = vec![Tape { input, way: TapeWay::Down }];
        // A crest as high as the hatch mark tells the same.
        scene.marks = vec![(Mark::Hatch, metres(9.0)), (Mark::Overflow, metres(9.0))];
        assert_eq!(told(&case, &scene).len(), 4);
        scene.marks.remove(0);
        assert_eq!(told(&case, &scene).len(), 4);
    }
}
