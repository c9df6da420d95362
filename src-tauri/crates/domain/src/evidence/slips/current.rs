//! The loop and the control room against the display.

use uom::si::f64::{Length, Ratio};
use uom::si::ratio::ratio;

use super::LENGTH_PAIRS;

/// What the current says against the display, in fractions of the range: 0 at LRV, 1 at URV.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurrentSeen {
    /// What the current means.
    pub current: Ratio,
    /// What the display means.
    pub display: Ratio,
    /// The standing head.
    pub standing: Ratio,
    /// How near the two are known.
    pub near: Ratio,
}

/// Why a current and a display mean different levels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CurrentCause {
    /// The signal is turned round: 20 mA at the other end.
    OtherAction,
    /// The output is held at a fixed value.
    Held,
    /// The range takes the standing head out, or does not, other than the register says.
    RangeAndHead,
    /// The range is in another unit.
    RangeUnit,
    /// The output was trimmed off.
    OutputTrim,
    /// The range on the unit is another one.
    OtherRange,
}

/// An output trim moves the signal by no more than this part of it.
const TRIM: f64 = 0.04;

/// Returns what explains it, likeliest first.
#[must_use]
pub fn current_causes(seen: &CurrentSeen) -> Vec<CurrentCause> {
    let [current, display, standing, near] =
        [seen.current, seen.display, seen.standing, seen.near].map(|one| one.get::<ratio>());
    let is = |other: f64| (current - other).abs() <= near;
    let quarters = [0.0, 0.25, 0.5, 0.75, 1.0];
    let ratios = LENGTH_PAIRS.iter().flat_map(|(_, times)| [*times, 1.0 / times]);
    let small = (current - display).abs() <= TRIM;
    let mut causes = Vec::new();
    let mut add = |cause, there: bool| causes.extend(there.then_some(cause));
    add(CurrentCause::OtherAction, is(1.0 - display));
    add(CurrentCause::RangeAndHead, is(display + standing) || is(display - standing));
    add(CurrentCause::RangeUnit, ratios.into_iter().any(|times| is(display * times)));
    add(CurrentCause::OutputTrim, small);
    add(CurrentCause::OtherRange, true);
    // A current that stands exactly on a test point is most likely held there; only then it goes first.
    if quarters.iter().any(|point| (current - point).abs() <= 0.25 * near) {
        causes.insert(0, CurrentCause::Held);
    }
    causes
}

/// Why the control room sees another level than the instrument tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RoomCause {
    /// The standing head is taken out there once more, or not where it should be.
    Head,
    /// It is scaled in another unit.
    Unit {
        /// Times how much it shows.
        times: f64,
    },
    /// Its range is another one.
    OtherRange,
}

/// Returns what explains it, likeliest first.
#[must_use]
pub fn room_causes(room: Length, told: Length, standing: Length, near: Length) -> Vec<RoomCause> {
    let is = |other: Length| (room - other).abs() <= near;
    let mut causes = Vec::new();
    if is(told + standing) || is(told - standing) {
        causes.push(RoomCause::Head);
    }
    let ratios = LENGTH_PAIRS.iter().flat_map(|(_, times)| [*times, 1.0 / times]);
    causes
        .extend(ratios.into_iter().filter(|times| is(told * *times)).map(|times| RoomCause::Unit { times }));
    causes.push(RoomCause::OtherRange);
    causes
}
