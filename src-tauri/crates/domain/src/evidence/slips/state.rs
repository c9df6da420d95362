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

/// A twentieth of the standing head: far more than a zero drifts, far less than one slip differs from another.
const NEAR: f64 = 0.05;

/// Tells from what the display shows at level zero, where nothing is meant to be shown, whether the standing head is
/// taken out with the wrong sign, twice or not at all. Drift is no slip: an error of less than half the standing head
/// says nothing here, and neither does one that is near none of the three.
#[must_use]
pub fn offset_state(at_zero: Pressure, expanded: Pressure, standing: Pressure) -> Option<OffsetState> {
    let size = standing.value.abs();
    let near = (NEAR * size).max(expanded.value);
    if !size.is_finite() || near > 0.25 * size {
        return None;
    }
    let parts = [(2.0, OffsetState::OtherSign), (-1.0, OffsetState::Twice), (1.0, OffsetState::Missing)];
    let is = |(times, _): &&(f64, OffsetState)| (at_zero.value - times * standing.value).abs() <= near;
    parts.iter().find(is).map(|(_, state)| *state)
}
