//! Slips with a tape.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::super::{Case, InputId};
use super::catalogue::{Tried, given};
use super::change::Change;
use super::{Cause, LENGTH_PAIRS, Mark, Scene, Tape, TapeWay};

/// How far a mark may be from where the register has it, either side, in metres.
const MARK: f64 = 0.012;

/// Returns the ratios by which lengths are mistaken.
pub(super) fn times() -> impl Iterator<Item = f64> {
    LENGTH_PAIRS.iter().flat_map(|(_, ratio)| [*ratio, 1.0 / ratio])
}

/// Returns the slips that can be in dips, drops and measured risers.
pub(super) fn of_the_tapes(case: &Case, scene: &Scene) -> Vec<Tried> {
    let lengths = scene.tapes.iter().map(|tape| tape.input).chain(scene.risers.iter().copied());
    let mut tried: Vec<Tried> = lengths.flat_map(|input| of_one(case, scene, input)).collect();
    tried.extend(scene.tapes.iter().flat_map(|tape| marks(case, scene, *tape)));
    tried
}

fn of_one(case: &Case, scene: &Scene, input: InputId) -> Vec<Tried> {
    let value = given(case, input);
    let unit = times().map(|times| {
        let change = Change::step(input, value * (times - 1.0)).by_ratio(times);
        Tried::new(Cause::LengthUnit { input, times }, 2.0, change)
    });
    let round =
        scene.round.iter().flat_map(|by| [*by, -*by]).map(|by| {
            Tried::new(Cause::RoundStep { input, by }, 1.0, Change::step(input, by.get::<meter>()))
        });
    unit.chain(round).collect()
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
