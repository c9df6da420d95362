//! Dimension lines: the transmitter's own height, and the leg or the distance between two seals.

use uom::si::f64::Length;

use super::labels::Label;
use super::sheet::{Sheet, level, plumb, words};
use super::{Role, Shape};
use crate::head::mounting::Mounting;

/// Where the transmitter's own height is dimensioned.
const LEFT: f64 = 10.0;

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
        // Two short lines beside the riser, so that the words do not cross it, nor the ground.
        let y = f64::midpoint(self.y(zero), self.y(sensor)).min(self.ground() - 22.0);
        let lines = [(y - 3.0, self.own_name().to_owned()), (y + 15.0, (self.says)(sensor.abs()))];
        shapes.extend(lines.map(|(y, text)| words(Role::Dimension, LEFT + 8.0, y, "start", text)));
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
