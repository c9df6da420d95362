//! An offset that is on the unit, but not as it was meant.

use uom::si::f64::Pressure;

/// How the offset on the unit differs from the one that takes the standing head out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OffsetState {
    /// It has the other sign: the display shows the standing head twice.
    OtherSign,
    /// It stands twice: the display lacks the standing head.
    Twice,
    /// It is not there: the display shows the standing head.
    Missing,
}

/// A tenth of the standing head, or what the unit was trimmed to and what the evidence leaves open, if that is more: far
/// less than one slip differs from another.
const NEAR: f64 = 0.1;

/// A unit may be off by a few tolerances by drift alone: a standing head of fewer than this many cannot be told from it.
/// Common practice, no source.
const TOLERANCES: f64 = 3.5;

/// Tells from what the display shows at level zero, where nothing is meant to be shown, whether the standing head is
/// taken out with the wrong sign, twice or not at all. Drift is no slip: an error of less than half the standing head
/// says nothing here, and neither does one that is near none of the three, or a standing head that is only a few tolerances.
#[must_use]
pub fn offset_state(
    at_zero: Pressure,
    expanded: Pressure,
    standing: Pressure,
    tolerance: Pressure,
) -> Option<OffsetState> {
    let size = standing.value.abs();
    let near = (NEAR * size).max(libm::hypot(expanded.value, tolerance.value));
    if !size.is_finite() || near > size / 3.0 || size < TOLERANCES * tolerance.value.abs() {
        return None;
    }
    let parts = [(2.0, OffsetState::OtherSign), (-1.0, OffsetState::Twice), (1.0, OffsetState::Missing)];
    let is = |(times, _): &&(f64, OffsetState)| (at_zero.value - times * standing.value).abs() <= near;
    parts.iter().find(is).map(|(_, state)| *state)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::Pressure;
    use uom::si::pressure::pascal;

    use super::{OffsetState, offset_state};

    /// A tolerance of 500 Pa, and 200 Pa of uncertainty.
    #[rstest]
    #[case::other_sign(60_100.0, 30_000.0, Some(OffsetState::OtherSign))]
    #[case::twice(-29_500.0, 30_000.0, Some(OffsetState::Twice))]
    #[case::missing(31_000.0, 30_000.0, Some(OffsetState::Missing))]
    // A wet leg: the low side presses more, and everything is turned round.
    #[case::wet_leg_other_sign(-60_100.0, -30_000.0, Some(OffsetState::OtherSign))]
    #[case::wet_leg_twice(29_500.0, -30_000.0, Some(OffsetState::Twice))]
    #[case::wet_leg_missing(-31_000.0, -30_000.0, Some(OffsetState::Missing))]
    #[case::drift(800.0, 30_000.0, None)]
    #[case::near_none(15_000.0, 30_000.0, None)]
    // A probe a foot under the zero: its standing head is six tolerances. One under 0.15 m has three, and drift does that.
    #[case::probe(3_000.0, 3_000.0, Some(OffsetState::Missing))]
    #[case::probe_at_the_zero(1_500.0, 1_500.0, None)]
    // Three and a half tolerances of 500 Pa are 1750 Pa.
    #[case::just_told_from_drift(1_750.0, 1_750.0, Some(OffsetState::Missing))]
    #[case::just_not(1_749.0, 1_749.0, None)]
    #[case::no_head_is_known(60_000.0, f64::NAN, None)]
    #[case::endless(60_000.0, f64::INFINITY, None)]
    // A tenth of 30 000 Pa either side, not more.
    #[case::near_enough(62_990.0, 30_000.0, Some(OffsetState::OtherSign))]
    #[case::not_near_enough(63_010.0, 30_000.0, None)]
    fn an_offset_is_told_by_what_shows_at_zero(
        #[case] at_zero: f64,
        #[case] standing: f64,
        #[case] state: Option<OffsetState>,
    ) {
        let [at_zero, standing, expanded, tolerance] =
            [at_zero, standing, 200.0, 500.0].map(Pressure::new::<pascal>);
        assert_eq!(offset_state(at_zero, expanded, standing, tolerance), state);
    }

    /// Beside a standing head of 30 000 Pa a third of it, 10 000 Pa, is the most that may be left open: a tolerance of 6000 Pa
    /// and 8000 Pa of uncertainty are as much together.
    #[rstest]
    #[case::left_open(8_010.0, None)]
    #[case::a_third(8_000.0, Some(OffsetState::Missing))]
    #[case::told(7_990.0, Some(OffsetState::Missing))]
    fn what_is_not_known_to_a_third_of_the_head_tells_nothing(
        #[case] expanded: f64,
        #[case] state: Option<OffsetState>,
    ) {
        let [at_zero, standing, expanded, tolerance] =
            [30_000.0, 30_000.0, expanded, 6_000.0].map(Pressure::new::<pascal>);
        assert_eq!(offset_state(at_zero, expanded, standing, tolerance), state);
        // As much off as that is near.
        let off = Pressure::new::<pascal>(9_990.0);
        assert_eq!(offset_state(at_zero + off, expanded, standing, tolerance), state);
    }
}
