//! The standing offset against the date: points with their uncertainty, the line through them, and where it steps.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::{Drawing, Role, Shape};

/// A visit on the chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffsetPoint {
    /// The day, counted from any one.
    pub day: i64,
    /// The standing offset at the common density.
    pub offset: Pressure,
    /// Its expanded uncertainty.
    pub expanded: Pressure,
    /// It belongs to the present history: same unit, same place.
    pub current: bool,
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Offsets {
    /// The visits, oldest first.
    pub points: Vec<OffsetPoint>,
    /// The line's ends, each with its day.
    pub line: Option<[(i64, Pressure); 2]>,
    /// Days before which the offset stepped or the history began anew.
    pub breaks: Vec<i64>,
    /// The first and the last date in words.
    pub dates: [String; 2],
    /// A sentence for those who cannot see it.
    pub description: String,
}

const WIDTH: f64 = 360.0;
const HEIGHT: f64 = 240.0;
const LEFT: f64 = 84.0;
const RIGHT: f64 = 344.0;
const TOP: f64 = 18.0;
const BOTTOM: f64 = 196.0;
/// Half the side of a point.
const POINT: f64 = 4.5;
/// Half the width of an uncertainty's ends.
const END: f64 = 5.0;

/// From days and pascals to the sheet.
struct Sheet {
    first: f64,
    days: f64,
    most: f64,
    span: f64,
}

#[allow(clippy::cast_precision_loss)] // Days of the calendar.
fn days(day: i64) -> f64 {
    day as f64
}

impl Sheet {
    fn of(offsets: &Offsets) -> Option<Sheet> {
        let ends = offsets.points.iter().flat_map(|point| {
            [point.offset - point.expanded, point.offset + point.expanded].map(|end| end.get::<pascal>())
        });
        let line = offsets.line.iter().flatten().map(|(_, offset)| offset.get::<pascal>());
        let values: Vec<f64> = ends.chain(line).filter(|value| value.is_finite()).collect();
        let (first, last) = (offsets.points.first()?.day, offsets.points.last()?.day);
        let (least, most) = values
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| (least.min(*one), most.max(*one)));
        let room = ((most - least) * 0.08).max(1.0);
        (least <= most).then(|| Sheet {
            first: days(first),
            days: days(last) - days(first),
            most: most + room,
            span: most - least + 2.0 * room,
        })
    }

    /// One day alone stands in the middle.
    fn x(&self, day: i64) -> f64 {
        let part = if self.days > 0.0 { (days(day) - self.first) / self.days } else { 0.5 };
        LEFT + 12.0 + (RIGHT - LEFT - 24.0) * part
    }

    fn y(&self, offset: Pressure) -> f64 {
        TOP + (BOTTOM - TOP) * (self.most - offset.get::<pascal>()) / self.span
    }

    fn at(&self, part: f64) -> Pressure {
        Pressure::new::<pascal>(self.most - self.span * part)
    }
}

fn line(role: Role, (x1, y1): (f64, f64), (x2, y2): (f64, f64)) -> Shape {
    Shape::Line { role, x1, y1, x2, y2 }
}

fn text(x: f64, y: f64, anchor: &str, text: String) -> Shape {
    Shape::Text { role: Role::Label, x, y, anchor: anchor.to_owned(), text }
}

impl Offsets {
    /// Draws the chart; `says` prints an offset at the axis. `None` where there is no point.
    #[must_use]
    pub fn draw(&self, says: impl Fn(Pressure) -> String) -> Option<Drawing> {
        let sheet = Sheet::of(self)?;
        let mut shapes = self.axes(&sheet, says);
        for day in &self.breaks {
            let x = sheet.x(*day) - 9.0;
            shapes.push(line(Role::Datum, (x, TOP), (x, BOTTOM)));
        }
        if let Some([(from, start), (to, end)]) = self.line {
            let (start, end) = ((sheet.x(from), sheet.y(start)), (sheet.x(to), sheet.y(end)));
            shapes.push(line(Role::Trend, start, end));
        }
        self.points.iter().for_each(|point| shapes.extend(drawn(&sheet, point)));
        Some(Drawing { width: WIDTH, height: HEIGHT, description: self.description.clone(), shapes })
    }

    fn axes(&self, sheet: &Sheet, says: impl Fn(Pressure) -> String) -> Vec<Shape> {
        let mut shapes = vec![
            line(Role::Axis, (LEFT, TOP), (LEFT, BOTTOM)),
            line(Role::Axis, (LEFT, BOTTOM), (RIGHT, BOTTOM)),
        ];
        for part in [0.08, 0.5, 0.92] {
            let y = TOP + (BOTTOM - TOP) * part;
            shapes.push(line(Role::Axis, (LEFT - 5.0, y), (LEFT, y)));
            shapes.push(text(LEFT - 8.0, y + 5.0, "end", says(sheet.at(part))));
        }
        let [first, last] = &self.dates;
        if first == last {
            shapes.push(text(0.5 * (LEFT + RIGHT), BOTTOM + 22.0, "middle", first.clone()));
        } else {
            shapes.push(text(LEFT - 20.0, BOTTOM + 22.0, "start", first.clone()));
            shapes.push(text(RIGHT + 6.0, BOTTOM + 22.0, "end", last.clone()));
        }
        shapes
    }
}

fn drawn(sheet: &Sheet, point: &OffsetPoint) -> Vec<Shape> {
    let role = if point.current { Role::Measured } else { Role::Passed };
    let (x, y) = (sheet.x(point.day), sheet.y(point.offset));
    let (low, high) = (sheet.y(point.offset - point.expanded), sheet.y(point.offset + point.expanded));
    vec![
        line(role, (x, low), (x, high)),
        line(role, (x - END, low), (x + END, low)),
        line(role, (x - END, high), (x + END, high)),
        Shape::Rect { role, x: x - POINT, y: y - POINT, w: 2.0 * POINT, h: 2.0 * POINT },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pa(value: f64) -> Pressure {
        Pressure::new::<pascal>(value)
    }

    fn chart(points: &[(i64, f64)]) -> Offsets {
        let point = |(day, offset): &(i64, f64)| OffsetPoint {
            day: *day,
            offset: pa(*offset),
            expanded: pa(50.0),
            current: true,
        };
        Offsets {
            points: points.iter().map(point).collect(),
            line: None,
            breaks: Vec::new(),
            dates: ["2023-01-01".into(), "2026-01-01".into()],
            description: String::new(),
        }
    }

    #[test]
    fn no_visit_makes_no_chart() {
        assert_eq!(chart(&[]).draw(|_| String::new()), None);
        assert_eq!(chart(&[(0, f64::NAN)]).draw(|_| String::new()), None);
    }

    #[test]
    fn everything_stays_on_the_sheet_and_a_larger_offset_stands_higher() {
        for points in [vec![(0, -1000.0)], vec![(0, -1000.0), (365, -400.0), (800, 300.0)]] {
            let drawing = chart(&points).draw(|offset| format!("{:.0}", offset.get::<pascal>())).unwrap();
            let mut tops = Vec::new();
            for shape in &drawing.shapes {
                let (xs, ys) = match shape {
                    Shape::Line { x1, x2, y1, y2, .. } => ([*x1, *x2], [*y1, *y2]),
                    Shape::Rect { x, y, w, h, .. } => {
                        tops.push(*y);
                        ([*x, x + w], [*y, y + h])
                    }
                    Shape::Text { x, y, .. } => ([*x, *x], [*y, *y]),
                };
                assert!(xs.iter().all(|x| (0.0..=drawing.width).contains(x)), "{shape:?}");
                assert!(ys.iter().all(|y| (0.0..=drawing.height).contains(y)), "{shape:?}");
            }
            assert!(tops.windows(2).all(|pair| pair[0] > pair[1]));
        }
    }
}
