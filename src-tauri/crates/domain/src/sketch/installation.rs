//! An open tank over a riser, dimensioned, to one scale from top to bottom.

use uom::si::f64::Length;
use uom::si::length::meter;

use super::labels::{Label, column};
use super::{Drawing, Role, Shape};

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
    /// Riser height: tank zero above the sensing point; negative when the transmitter stands above.
    pub riser: Length,
    /// "31 ft 4 in".
    pub riser_says: String,
    /// Level at 100 %.
    pub span: Length,
    /// The tank floor where it is not the zero.
    pub floor: Length,
    /// The liquid's surface by the evidence, if known.
    pub level: Option<Length>,
    /// Datum lines, the level and what the display shows, each with its words.
    pub marks: Vec<Mark>,
}

const WIDTH: f64 = 360.0;
const HEIGHT: f64 = 430.0;
const TOP: f64 = 16.0;
const BOTTOM: f64 = 402.0;
const TANK_LEFT: f64 = 64.0;
const TANK_RIGHT: f64 = 184.0;
const RISER_HALF: f64 = 7.0;
const LABELS: f64 = 204.0;

/// From heights to the sheet.
struct Scale {
    highest: f64,
    per_metre: f64,
}

impl Scale {
    fn over(lowest: f64, highest: f64) -> Scale {
        Scale { highest, per_metre: (BOTTOM - TOP) / (highest - lowest).max(1e-6) }
    }

    fn y(&self, height: f64) -> f64 {
        TOP + (self.highest - height) * self.per_metre
    }
}

impl Installation {
    /// Draws it. One scale serves the whole height, so a wrong sign or a foot taken for a metre is seen.
    #[must_use]
    pub fn draw(&self) -> Drawing {
        let scale = self.scale();
        let mut shapes = self.ground(&scale);
        shapes.extend(self.vessel(&scale));
        shapes.extend(self.dimensions(&scale));
        shapes.extend(self.transmitter(&scale));
        shapes.extend(self.mark_lines(&scale));
        Drawing { width: WIDTH, height: HEIGHT, description: self.description(), shapes }
    }

    fn sensor(&self) -> f64 {
        -self.riser.get::<meter>()
    }

    fn tank_top(&self) -> f64 {
        let built =
            self.marks.iter().filter(|mark| mark.role == Role::Datum).map(|mark| mark.at.get::<meter>());
        built.fold(self.span.get::<meter>(), f64::max)
    }

    fn tank_bottom(&self) -> f64 {
        self.floor.get::<meter>().min(0.0)
    }

    fn scale(&self) -> Scale {
        let mut lowest = self.sensor().min(self.tank_bottom());
        let mut highest = self.tank_top().max(self.sensor());
        for mark in &self.marks {
            lowest = lowest.min(mark.at.get::<meter>());
            highest = highest.max(mark.at.get::<meter>());
        }
        let room = (highest - lowest) * 0.03;
        Scale::over(lowest - room, highest + room)
    }

    fn ground(&self, scale: &Scale) -> Vec<Shape> {
        let y = scale.y(self.sensor().min(self.tank_bottom())) + 16.0;
        vec![Shape::Line { role: Role::Ground, x1: 8.0, y1: y, x2: LABELS - 12.0, y2: y }]
    }

    fn vessel(&self, scale: &Scale) -> Vec<Shape> {
        let (top, bottom) = (scale.y(self.tank_top()), scale.y(self.tank_bottom()));
        let middle = (TANK_LEFT + TANK_RIGHT) / 2.0;
        let foot = scale.y(self.sensor());
        let mut shapes = Vec::new();
        if let Some(level) = self.level {
            let surface = scale.y(level.get::<meter>());
            if surface < bottom {
                let (w, h) = (TANK_RIGHT - TANK_LEFT, bottom - surface);
                shapes.push(Shape::Rect { role: Role::Liquid, x: TANK_LEFT, y: surface, w, h });
            }
        }
        if foot > bottom {
            let (x, w, h) = (middle - RISER_HALF, RISER_HALF * 2.0, foot - bottom);
            shapes.push(Shape::Rect { role: Role::Liquid, x, y: bottom, w, h });
            shapes.push(Shape::Rect { role: Role::Wall, x, y: bottom, w, h });
        }
        let (w, h) = (TANK_RIGHT - TANK_LEFT, bottom - top);
        shapes.push(Shape::Rect { role: Role::Wall, x: TANK_LEFT, y: top, w, h });
        shapes
    }

    fn dimensions(&self, scale: &Scale) -> Vec<Shape> {
        let (zero, foot) = (scale.y(0.0), scale.y(self.sensor()));
        let x = 14.0;
        let mut shapes = vec![Shape::Line { role: Role::Dimension, x1: x, y1: zero, x2: x, y2: foot }];
        for y in [zero, foot] {
            shapes.push(Shape::Line { role: Role::Dimension, x1: x - 5.0, y1: y, x2: x + 5.0, y2: y });
        }
        // Two short lines beside the riser, so that the words do not cross it.
        let y = (zero + foot) / 2.0;
        for (y, text) in [(y - 3.0, "riser".to_owned()), (y + 15.0, self.riser_says.clone())] {
            let (x, anchor) = (x + 9.0, "start".into());
            shapes.push(Shape::Text { role: Role::Dimension, x, y, anchor, text });
        }
        shapes
    }

    fn transmitter(&self, scale: &Scale) -> Vec<Shape> {
        let y = scale.y(self.sensor());
        let middle = (TANK_LEFT + TANK_RIGHT) / 2.0;
        vec![
            Shape::Line { role: Role::Wall, x1: middle + RISER_HALF, y1: y, x2: TANK_RIGHT - 22.0, y2: y },
            Shape::Rect { role: Role::Transmitter, x: TANK_RIGHT - 22.0, y: y - 11.0, w: 22.0, h: 22.0 },
        ]
    }

    fn mark_lines(&self, scale: &Scale) -> Vec<Shape> {
        let mut shapes = Vec::new();
        let mut labels = Vec::new();
        for mark in &self.marks {
            let y = scale.y(mark.at.get::<meter>());
            let left = if mark.role == Role::Datum { TANK_LEFT - 30.0 } else { TANK_LEFT };
            shapes.push(Shape::Line { role: mark.role, x1: left, y1: y, x2: TANK_RIGHT, y2: y });
            labels.push(Label { at: y, text: mark.says.clone(), role: mark.role });
        }
        let y = scale.y(self.sensor());
        labels.push(Label { at: y, text: "transmitter".into(), role: Role::Transmitter });
        shapes.extend(column(labels, TANK_RIGHT, LABELS, TOP, HEIGHT - 12.0));
        shapes
    }

    fn description(&self) -> String {
        let side = if self.riser.get::<meter>() < 0.0 { "above" } else { "below" };
        let marks: Vec<&str> = self.marks.iter().map(|mark| mark.says.as_str()).collect();
        format!(
            "Section to scale: the transmitter stands {} {side} the tank's zero. From top to bottom: {}.",
            self.riser_says.trim_start_matches('-'),
            marks.join("; ")
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    fn tower(riser: f64) -> Installation {
        let mark = |at: f64, says: &str, role| Mark { at: metres(at), says: says.into(), role };
        Installation {
            riser: metres(riser),
            riser_says: format!("{riser} m"),
            span: metres(7.8),
            floor: metres(0.0),
            level: Some(metres(3.9)),
            marks: vec![
                mark(7.8, "100 % 7.80 m", Role::Datum),
                mark(3.9, "level 3.90 m", Role::Surface),
                mark(0.0, "0 % tank zero", Role::Datum),
            ],
        }
    }

    fn liquid_rects(drawing: &Drawing) -> Vec<(f64, f64)> {
        let liquid = drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Rect { role: Role::Liquid, y, h, .. } => Some((*y, *h)),
            _ => None,
        });
        liquid.collect()
    }

    #[test]
    fn riser_and_liquid_share_one_scale() {
        let drawing = tower(14.62).draw();
        let rects = liquid_rects(&drawing);
        let (tank, riser) = (rects[0].1, rects[1].1);
        assert!((riser / tank - 14.62 / 3.9).abs() < 1e-9, "{tank} {riser}");
    }

    #[test]
    fn everything_stays_on_the_sheet() {
        for riser in [-6.0, 0.0, 0.5, 14.62, 60.0] {
            let drawing = tower(riser).draw();
            for shape in &drawing.shapes {
                let (low, high) = match shape {
                    Shape::Line { y1, y2, .. } => (y1.min(*y2), y1.max(*y2)),
                    Shape::Rect { y, h, .. } => (*y, y + h),
                    Shape::Text { y, .. } => (*y, *y),
                };
                assert!(low >= 0.0 && high <= drawing.height, "{riser}: {shape:?}");
            }
        }
    }

    #[test]
    fn transmitter_above_the_zero_is_said() {
        assert!(tower(-2.0).draw().description.contains("2 m above"));
    }
}
