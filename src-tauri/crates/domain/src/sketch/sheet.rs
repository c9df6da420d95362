//! The sheet: where things stand across it, and one scale from top to bottom.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::installation::Installation;
use super::{Role, Shape};
use crate::head::mounting::Mounting;

/// Width of the sheet.
pub(super) const WIDTH: f64 = 360.0;
/// Height of the sheet.
pub(super) const HEIGHT: f64 = 430.0;
/// The highest thing stands here.
pub(super) const TOP: f64 = 16.0;
const BOTTOM: f64 = 402.0;

/// From heights to the sheet.
struct Scale {
    highest: f64,
    per_metre: f64,
}

impl Scale {
    fn over(lowest: f64, highest: f64) -> Scale {
        let room = (highest - lowest) * 0.03;
        let (lowest, highest) = (lowest - room, highest + room);
        Scale { highest, per_metre: (BOTTOM - TOP) / (highest - lowest).max(1e-6) }
    }
}

/// Where things stand across the sheet. What stands beside the tank makes it narrower.
pub(super) struct Across {
    /// The tank's left wall.
    pub(super) tank_left: f64,
    /// The tank's right wall.
    pub(super) tank_right: f64,
    /// Middle of a riser under the tank.
    pub(super) riser: f64,
    /// Left edge of the transmitter's box.
    pub(super) transmitter: f64,
    /// Middle of a line beside the tank, between it and the transmitter.
    pub(super) near: f64,
    /// Middle of a leg or capillary beyond the transmitter.
    pub(super) leg: f64,
    /// Where leaders begin; a leg's dimension stands there.
    pub(super) leaders: f64,
    /// Where labels begin.
    pub(super) labels: f64,
}

const OPEN: Across = Across {
    tank_left: 64.0,
    tank_right: 184.0,
    riser: 124.0,
    transmitter: 162.0,
    near: 124.0,
    leg: 124.0,
    leaders: 184.0,
    labels: 204.0,
};

const BESIDE: Across = Across {
    tank_left: 72.0,
    tank_right: 144.0,
    riser: 130.0,
    transmitter: 162.0,
    near: 153.0,
    leg: 184.0,
    leaders: 184.0,
    labels: 204.0,
};

const WITH_LEG: Across = Across {
    tank_left: 68.0,
    tank_right: 124.0,
    riser: 113.0,
    transmitter: 138.0,
    near: 131.0,
    leg: 170.0,
    leaders: 187.0,
    labels: 206.0,
};

impl Across {
    fn of(of: &Installation) -> Across {
        match of.mounting {
            Mounting::Probe { .. } => OPEN,
            // A riser that would end inside the tank is drawn beside it.
            Mounting::Riser { .. } if of.sensor() <= of.tank_bottom() => OPEN,
            Mounting::Riser { .. } | Mounting::AboveDatum { .. } | Mounting::OneSeal { .. } => BESIDE,
            _ => WITH_LEG,
        }
    }
}

/// An installation on its sheet.
pub(super) struct Sheet<'a> {
    /// What is drawn.
    pub(super) of: &'a Installation,
    /// How lengths are said.
    pub(super) says: &'a dyn Fn(Length) -> String,
    /// Where things stand across.
    pub(super) across: Across,
    scale: Scale,
}

impl<'a> Sheet<'a> {
    /// Lays a sheet out, so that all heights have their place on it.
    pub(super) fn of(of: &'a Installation, says: &'a dyn Fn(Length) -> String) -> Sheet<'a> {
        let across = Across::of(of);
        let marks = of.marks.iter().map(|mark| mark.at);
        let others = [of.sensor(), of.tank_bottom(), of.tank_top()];
        let heights: Vec<f64> = marks.chain(others).chain(of.level).map(|at| at.get::<meter>()).collect();
        let lowest = heights.iter().copied().fold(f64::INFINITY, f64::min);
        let highest = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        Sheet { of, says, across, scale: Scale::over(lowest, highest) }
    }

    /// Returns where a height stands on the sheet.
    pub(super) fn y(&self, height: Length) -> f64 {
        TOP + (self.scale.highest - height.get::<meter>()) * self.scale.per_metre
    }

    /// Returns where the ground is drawn: a little under all that is built.
    pub(super) fn ground(&self) -> f64 {
        self.y(self.of.sensor().min(self.of.tank_bottom())) + 16.0
    }
}

/// Returns an upright rectangle around a middle, between two places in any order.
pub(super) fn upright(role: Role, middle: f64, width: f64, ends: [f64; 2]) -> Shape {
    let [one, other] = ends;
    Shape::Rect { role, x: middle - width / 2.0, y: one.min(other), w: width, h: (one - other).abs() }
}

/// Returns a line across.
pub(super) fn level(role: Role, from: f64, to: f64, y: f64) -> Shape {
    Shape::Line { role, x1: from, y1: y, x2: to, y2: y }
}

/// Returns a line straight up or down.
pub(super) fn plumb(role: Role, x: f64, ends: [f64; 2]) -> Shape {
    let [y1, y2] = ends;
    Shape::Line { role, x1: x, y1, x2: x, y2 }
}

/// Returns words.
pub(super) fn words(role: Role, x: f64, y: f64, anchor: &str, text: String) -> Shape {
    Shape::Text { role, x, y, anchor: anchor.to_owned(), text }
}
