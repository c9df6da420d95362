//! A tank and its transmitter, whatever the mounting: dimensioned, to one scale from top to bottom.

#[cfg(test)]
mod tests;

use uom::si::f64::Length;

use super::labels::{Label, column};
use super::sheet::{HEIGHT, Sheet, TOP, WIDTH, level};
use super::{Drawing, Role, Shape};
use crate::head::mounting::Mounting;

/// A height worth a line of its own, above the tank's zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// How high.
    pub at: Length,
    /// What it says: name and height in the site's units.
    pub says: String,
    /// What it is.
    pub role: Role,
}

/// What is drawn. Heights are above the tank's zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Installation {
    /// How the transmitter sits, with its heights.
    pub mounting: Mounting,
    /// Level at 100 %.
    pub span: Length,
    /// The tank floor where it is not the zero.
    pub floor: Length,
    /// The measured surface by the evidence, if known.
    pub level: Option<Length>,
    /// Datum lines, the level and what the display shows, each with its words.
    pub marks: Vec<Mark>,
}

impl Installation {
    /// Draws it, lengths as `says` writes them. One scale serves the whole height, so a wrong sign or a foot taken
    /// for a metre is seen.
    #[must_use]
    pub fn draw(&self, says: &dyn Fn(Length) -> String) -> Drawing {
        let sheet = Sheet::of(self, says);
        let mut shapes = vec![level(Role::Ground, 8.0, sheet.across.leaders + 8.0, sheet.ground())];
        shapes.extend(sheet.vessel());
        shapes.extend(sheet.lines());
        shapes.extend(sheet.transmitter());
        shapes.extend(sheet.mark_lines());
        shapes.extend(sheet.dimensions());
        Drawing { width: WIDTH, height: HEIGHT, description: sheet.description(), shapes }
    }

    /// Returns how high the sensing point stands.
    pub(super) fn sensor(&self) -> Length {
        -self.mounting.riser()
    }

    /// Returns the highest of what is built of the tank.
    pub(super) fn tank_top(&self) -> Length {
        let built = self.marks.iter().filter(|mark| mark.role == Role::Datum).map(|mark| mark.at);
        built.chain(self.mounting.top()).fold(self.span, Length::max)
    }

    /// Returns the lowest of it: a seal or a probe is in the liquid too.
    pub(super) fn tank_bottom(&self) -> Length {
        let probe = matches!(self.mounting, Mounting::Probe { .. }).then(|| self.sensor());
        self.mounting.tap().into_iter().chain(probe).fold(self.floor.min(Length::default()), Length::min)
    }

    /// Returns leg length, or the distance between two seals: what the low side's column rises.
    pub(super) fn leg(&self) -> Option<[Length; 2]> {
        let foot = if self.mounting.has_seals() { self.mounting.tap() } else { None };
        self.mounting.top().map(|top| [foot.unwrap_or_else(|| self.sensor()), top])
    }

    /// Returns the heights at which the mounting meets the tank, each with its name.
    pub(super) fn connections(&self) -> Vec<(Length, &'static str)> {
        let upper = if self.mounting.has_seals() { "upper seal" } else { "upper tap" };
        let lower = if self.mounting.is_closed() { "lower seal" } else { "seal" };
        let top = self.mounting.top().map(|at| (at, upper));
        top.into_iter().chain(self.mounting.tap().map(|at| (at, lower))).collect()
    }
}

impl Sheet<'_> {
    fn mark_lines(&self) -> Vec<Shape> {
        let (across, mut shapes, mut labels) = (&self.across, Vec::new(), Vec::new());
        for mark in &self.of.marks {
            let y = self.y(mark.at);
            let left = if mark.role == Role::Datum { across.tank_left - 30.0 } else { across.tank_left };
            shapes.push(level(mark.role, left, across.tank_right, y));
            labels.push(Label { at: y, text: mark.says.clone(), role: mark.role });
            shapes.extend(self.beyond_tank(across.tank_right, y));
        }
        for (at, name) in self.of.connections() {
            let (y, text) = (self.y(at), format!("{name} {}", (self.says)(at)));
            labels.push(Label { at: y, text, role: Role::Datum });
            let from = if Some(at) == self.of.mounting.top() { across.leg } else { across.near };
            shapes.extend(self.beyond_tank(from, y));
        }
        labels.extend(self.leg_label());
        let name = if matches!(self.of.mounting, Mounting::Probe { .. }) { "probe" } else { "transmitter" };
        let y = self.y(self.of.sensor());
        labels.push(Label { at: y, text: name.to_owned(), role: Role::Transmitter });
        shapes.push(level(Role::Transmitter, self.transmitter_end(), across.leaders, y));
        shapes.extend(column(labels, across.leaders, across.labels, TOP, HEIGHT - 12.0));
        shapes
    }

    /// From the tank to where leaders begin; what crosses a leg there must not look like a surface in it.
    fn beyond_tank(&self, from: f64, y: f64) -> Option<Shape> {
        (from < self.across.leaders).then(|| level(Role::Datum, from, self.across.leaders, y))
    }
}
