//! Dimension lines: the transmitter's own height, and the leg or the distance between two seals.

use uom::si::f64::Length;

use super::labels::Label;
use super::sheet::{Sheet, level, plumb, words};
use super::{Role, Shape};
use crate::head::mounting::Mounting;

/// Where the transmitter's own height is dimensioned.
const LEFT: f64 = 10.0;
/// What two short lines of words need between a tank and the ground.
const TWO_LINES: f64 = 44.0;
/// The most letters that do not reach the riser.
const BESIDE_RISER: usize = 13;

impl Sheet<'_> {
    /// Draws them. Between two seals the transmitter's own height cancels, so only theirs is.
    pub(super) fn dimensions(&self) -> Vec<Shape> {
        let leg = self.of.leg().map(|ends| self.dimension(self.across.leaders, ends));
        let mut shapes = leg.unwrap_or_default();
        if !matches!(self.of.mounting, Mounting::TwoSeals { .. }) {
            shapes.extend(self.own_height());
        }
        shapes
    }

    fn dimension(&self, x: f64, ends: [Length; 2]) -> Vec<Shape> {
        let ends = ends.map(|end| self.y(end));
        let ticks = ends.map(|y| level(Role::Dimension, x - 5.0, x + 5.0, y));
        [plumb(Role::Dimension, x, ends)].into_iter().chain(ticks).collect()
    }

    fn own_height(&self) -> Vec<Shape> {
        let (zero, sensor) = (Length::default(), self.of.sensor());
        let mut shapes = self.dimension(LEFT, [zero, sensor]);
        let (name, says) = (self.own_name(), (self.says)(sensor.abs()));
        let [tank, end] = [self.of.tank_bottom(), sensor].map(|at| self.y(at));
        let middle = f64::midpoint(tank, end);
        let has_room = end - tank > TWO_LINES && says.chars().count() <= BESIDE_RISER;
        let lines = if has_room {
            vec![(LEFT + 8.0, middle - 3.0, name.to_owned()), (LEFT + 8.0, middle + 15.0, says)]
        } else {
            // Beside the tank they would cross its wall or the datum lines; under the ground nothing is drawn.
            vec![(LEFT - 5.0, self.ground() + 17.0, format!("{name} {says}"))]
        };
        shapes.extend(lines.into_iter().map(|(x, y, text)| words(Role::Dimension, x, y, "start", text)));
        shapes
    }

    fn own_name(&self) -> &'static str {
        match (self.of.mounting.has_line(), self.of.sensor() > Length::default()) {
            (true, true) => "rise",
            (true, false) => "riser",
            (false, true) => "above",
            (false, false) => "below",
        }
    }

    /// Returns what the right dimension line says, to stand among the labels.
    pub(super) fn leg_label(&self) -> Option<Label> {
        let [foot, top] = self.of.leg()?;
        let name = match self.of.mounting {
            Mounting::DryLeg { .. } => "dry leg",
            Mounting::WetLeg { .. } => "wet leg",
            Mounting::TwoSeals { .. } => "apart",
            _ => "filled leg",
        };
        let at = f64::midpoint(self.y(foot), self.y(top));
        let text = format!("{name} {}", (self.says)((top - foot).abs()));
        Some(Label { at, text, role: Role::Dimension })
    }
}
