//! The tank and what it holds.

use super::sheet::{Sheet, upright, words};
use super::{Role, Shape};

/// Room over the upper tap, for the lid.
const LID: f64 = 8.0;
/// A liquid shallower than this on the sheet has no room for its name.
const NAMED: f64 = 24.0;

impl Sheet<'_> {
    /// Draws the tank over its liquids.
    pub(super) fn vessel(&self) -> Vec<Shape> {
        let lid = if self.of.mounting.is_closed() { LID } else { 0.0 };
        let (top, bottom) = (self.y(self.of.tank_top()) - lid, self.y(self.of.tank_bottom()));
        let mut shapes = Vec::new();
        if let Some(surface) = self.of.level.map(|level| self.y(level)) {
            if self.of.mounting.light().is_some() {
                // The lighter liquid stands over the upper tap, or the interface could not be measured.
                shapes.extend(self.liquid(Role::Light, "light", [top, surface.clamp(top, bottom)]));
                shapes.extend(self.liquid(Role::Liquid, "heavy", [surface.clamp(top, bottom), bottom]));
            } else {
                shapes.extend(self.liquid(Role::Liquid, "", [surface, bottom]));
            }
        }
        shapes.push(self.tank(Role::Wall, [top, bottom]));
        shapes
    }

    fn tank(&self, role: Role, ends: [f64; 2]) -> Shape {
        let (left, right) = (self.across.tank_left, self.across.tank_right);
        upright(role, f64::midpoint(left, right), right - left, ends)
    }

    fn liquid(&self, role: Role, name: &str, ends: [f64; 2]) -> Vec<Shape> {
        let [top, bottom] = ends;
        if top >= bottom {
            return Vec::new();
        }
        let mut shapes = vec![self.tank(role, ends)];
        if !name.is_empty() && bottom - top > NAMED {
            let x = f64::midpoint(self.across.tank_left, self.across.tank_right);
            let y = f64::midpoint(top, bottom) + 5.0;
            shapes.push(words(Role::Label, x, y, "middle", name.to_owned()));
        }
        shapes
    }
}
