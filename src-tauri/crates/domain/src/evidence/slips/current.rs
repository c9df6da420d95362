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

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::{Length, Ratio};
    use uom::si::length::meter;
    use uom::si::ratio::ratio;

    use super::{CurrentCause, CurrentSeen, RoomCause, current_causes, room_causes};

    fn causes(current: f64, display: f64, standing: f64) -> Vec<CurrentCause> {
        let [current, display, standing, near] = [current, display, standing, 0.002].map(Ratio::new::<ratio>);
        current_causes(&CurrentSeen { current, display, standing, near })
    }

    /// A foot is 0.3048 m and twelve inches.
    #[rstest]
    #[case::metres_for_feet(0.2 * 0.3048, 0.2, CurrentCause::RangeUnit)]
    #[case::feet_for_metres(0.2 / 0.3048, 0.2, CurrentCause::RangeUnit)]
    #[case::feet_for_inches(0.72 / 12.0, 0.72, CurrentCause::RangeUnit)]
    #[case::inches_for_feet(0.06 * 12.0, 0.06, CurrentCause::RangeUnit)]
    #[case::turned_round(0.7, 0.3, CurrentCause::OtherAction)]
    #[case::head_left_in(0.33 + 0.45, 0.33, CurrentCause::RangeAndHead)]
    #[case::head_taken_out_twice(0.6 - 0.45, 0.6, CurrentCause::RangeAndHead)]
    #[case::trimmed_off(0.32, 0.3, CurrentCause::OutputTrim)]
    #[case::held(0.5, 0.31, CurrentCause::Held)]
    #[case::nothing_known(0.43, 0.31, CurrentCause::OtherRange)]
    fn the_likeliest_cause_of_a_current_leads(
        #[case] current: f64,
        #[case] display: f64,
        #[case] cause: CurrentCause,
    ) {
        assert_eq!(causes(current, display, 0.45).first(), Some(&cause));
    }

    #[test]
    fn each_cause_stands_only_where_its_numbers_do() {
        assert_eq!(causes(0.43, 0.31, 0.45), [CurrentCause::OtherRange]);
        assert_eq!(causes(0.345, 0.3, 0.9), [CurrentCause::OtherRange], "beyond what an output trim moves");
    }

    #[rstest]
    #[case::head_left_in(14.0 + 31.0, &[RoomCause::Head, RoomCause::OtherRange])]
    #[case::head_taken_out(14.0 - 31.0, &[RoomCause::Head, RoomCause::OtherRange])]
    #[case::in_inches(14.0 * 12.0, &[RoomCause::Unit { times: 12.0 }, RoomCause::OtherRange])]
    #[case::in_feet(14.0 / 12.0, &[RoomCause::Unit { times: 1.0 / 12.0 }, RoomCause::OtherRange])]
    #[case::another(20.0, &[RoomCause::OtherRange])]
    fn the_control_room_has_its_causes(#[case] room: f64, #[case] causes: &[RoomCause]) {
        let [room, told, standing, near] = [room, 14.0, 31.0, 0.05].map(Length::new::<meter>);
        assert_eq!(room_causes(room, told, standing, near), causes);
    }
}
