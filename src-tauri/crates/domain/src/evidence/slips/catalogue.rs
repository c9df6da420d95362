//! Every slip that is tried.
//!
//! The weights say how common a slip is against the others; they only settle what the numbers leave open (common
//! practice, no source).

use super::super::{Case, InputId};
use super::change::Change;
use super::{Cause, Scene, length, reading};

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
        let most = 1.5 * scene.per_metre.value * scene.riser.value.abs();
        tried.push(Tried::new(Cause::OffsetChanged, 3.0, Change::slide([(input, 1.0)], -most, most)));
    }
    tried
}

fn register(scene: &Scene) -> Vec<Tried> {
    let Some(input) = scene.register else { return Vec::new() };
    let height = scene.riser.value;
    let half = 0.5 * height.abs();
    let mut tried: Vec<Tried> = length::times()
        .map(|times| {
            let change = Change::step(input, height * (times - 1.0)).by_ratio(times);
            Tried::new(Cause::RegisterUnit { times }, 0.3, change)
        })
        .collect();
    let elsewhere = Change::slide([(input, 1.0)], -half, half);
    let other = if scene.other_serial { 100.0 } else { 0.2 };
    tried.push(Tried::new(Cause::RiserUnlike, 0.5, elsewhere.clone()));
    tried.push(Tried::new(Cause::OtherInstrument, other, elsewhere));
    tried
}
