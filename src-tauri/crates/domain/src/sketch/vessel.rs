//! The tank and what it holds.

use super::sheet::{Sheet, upright, words};
use super::{Role, Shape};

/// Room over the upper tap, for the lid.
const LID: f64 = 8.0;
/// What a liquid's name needs of height, with the lines that cross the tank above and below it.
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
        if let Some(middle) = self.free_of_lines(top, bottom).filter(|_| !name.is_empty()) {
            let x = f64::midpoint(self.across.tank_left, self.across.tank_right);
            shapes.push(words(Role::Label, x, middle + 5.0, "middle", name.to_owned()));
        }
        shapes
    }

    /// Returns the height nearest to a liquid's middle where no line would cross its name.
    fn free_of_lines(&self, top: f64, bottom: f64) -> Option<f64> {
        let lines = self.of.marks.iter().map(|mark| self.y(mark.at)).chain([top, bottom]);
        let lines: Vec<f64> = lines.collect();
        let places = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].map(|part| top + (bottom - top) * part);
        places.into_iter().find(|at| lines.iter().all(|line| (line - at).abs() > NAMED / 2.0))
    }
}
