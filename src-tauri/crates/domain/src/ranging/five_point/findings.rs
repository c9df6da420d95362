//! What a check found: error at each point, zero, span, hysteresis, linearity, the worst.

use std::collections::BTreeMap;

use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

use super::line::{Mean, from_best, from_ends};
use super::{FivePointError, Point, Run};

/// The difference between going down and going up, where it is largest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hysteresis {
    /// The place on the span, a quarter of it.
    pub at: Ratio,
    /// How large, never negative.
    pub size: Ratio,
}

/// What a check found, as parts of the span. What its points do not determine is none.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// The points, in the order they were taken.
    pub points: Vec<Point>,
    /// The point whose error is largest, either way.
    pub worst: Point,
    /// The mean error at 0 %.
    pub zero: Option<Ratio>,
    /// The mean error at 100 % less that at 0 %.
    pub span: Option<Ratio>,
    /// Down less up at one place, where it is largest.
    pub hysteresis: Option<Hysteresis>,
    /// Terminal-based nonlinearity: from the line through the mean errors at 0 and at 100 %.
    pub terminal: Option<Ratio>,
    /// Independent nonlinearity: from the line nearest to all mean errors.
    pub independent: Option<Ratio>,
}

/// Works out what a check found.
///
/// # Errors
///
/// [`FivePointError::NoPoints`].
pub fn findings(points: &[Point]) -> Result<Findings, FivePointError> {
    let mut worst = *points.first().ok_or(FivePointError::NoPoints)?;
    for point in points {
        if point.error().abs() > worst.error().abs() {
            worst = *point;
        }
    }
    let places = Places::of(points);
    let (zero, full) = (places.mean_error(0), places.mean_error(4));
    let means = places.means();
    let ends = zero.is_some() && full.is_some();
    Ok(Findings {
        points: points.to_vec(),
        worst,
        zero: zero.map(part),
        span: zero.zip(full).map(|(zero, full)| part(full - zero)),
        hysteresis: places.hysteresis(),
        terminal: ends.then(|| from_ends(&means)).flatten().map(part),
        independent: from_best(&means).map(part),
    })
}

fn part(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

/// The points of each place, up and down. Those taken too far from any place count as points and not here.
struct Places<'a>(BTreeMap<u8, Vec<&'a Point>>);

impl<'a> Places<'a> {
    fn of(points: &'a [Point]) -> Places<'a> {
        let mut places: BTreeMap<u8, Vec<&Point>> = BTreeMap::new();
        for point in points.iter().filter(|point| point.on_place()) {
            places.entry(point.place()).or_default().push(point);
        }
        Places(places)
    }

    /// The mean of the error over both ways. Each way counts once, however often it was gone: five runs up and one
    /// down would else hide half the hysteresis.
    fn mean_error(&self, place: u8) -> Option<f64> {
        both(self.0.get(&place)?, error)
    }

    fn means(&self) -> Vec<Mean> {
        let means = self.0.values().filter_map(|points| Some((both(points, applied)?, both(points, error)?)));
        means.collect()
    }

    fn hysteresis(&self) -> Option<Hysteresis> {
        let each = self.0.iter().filter_map(|(place, points)| {
            let size = (mean(points, Run::Down, error)? - mean(points, Run::Up, error)?).abs();
            Some(Hysteresis { at: part(f64::from(*place) / 4.0), size: part(size) })
        });
        each.reduce(|most, next| if next.size > most.size { next } else { most })
    }
}

fn error(point: &Point) -> f64 {
    point.error().get::<ratio>()
}

fn applied(point: &Point) -> f64 {
    point.applied().get::<ratio>()
}

fn mean(points: &[&Point], run: Run, of: fn(&Point) -> f64) -> Option<f64> {
    let values: Vec<f64> = points.iter().filter(|point| point.run() == run).map(|point| of(point)).collect();
    #[allow(clippy::cast_precision_loss)] // As many as somebody took.
    let count = values.len() as f64;
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / count)
}

fn both(points: &[&Point], of: fn(&Point) -> f64) -> Option<f64> {
    match (mean(points, Run::Up, of), mean(points, Run::Down, of)) {
        (Some(up), Some(down)) => Some((up + down) / 2.0),
        (one, other) => one.or(other),
    }
}
