//! Positions on the ground, for what is near: to find an instrument by, never to measure with.

use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

/// The Earth's mean radius, (2 a + b) / 3, in metres: Moritz, Geodetic Reference System 1980, J. Geodesy 74 (2000)
/// 128-133: 6 371 008.7714 m. On a sphere of it a distance is right within 0.6 % of the ellipsoid's.
const MEAN_RADIUS: f64 = 6_371_008.771_4;

/// A position on the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// North positive.
    pub latitude: Angle,
    /// East positive.
    pub longitude: Angle,
}

impl Position {
    /// Returns a position; none for what no map holds.
    #[must_use]
    pub fn new(latitude: Angle, longitude: Angle) -> Option<Position> {
        let within = |angle: Angle, most: f64| angle.get::<degree>().abs() <= most;
        (within(latitude, 90.0) && within(longitude, 180.0)).then_some(Position { latitude, longitude })
    }

    /// Reads a position as registers write it: `39.2043, -98.9127`, latitude first, in degrees.
    #[must_use]
    pub fn read(text: &str) -> Option<Position> {
        let (latitude, longitude) = text.split_once(',')?;
        let angle = |part: &str| {
            let part = part.trim();
            // A map's degrees are plain decimals: no exponent, no word that a number parser would take.
            let is_plain = part.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'));
            part.parse().ok().filter(|_| is_plain).map(Angle::new::<degree>)
        };
        Position::new(angle(latitude)?, angle(longitude)?)
    }

    /// Returns the distance over the ground, along a great circle.
    #[must_use]
    pub fn distance(self, other: Position) -> Length {
        let half = |from: Angle, to: Angle| libm::sin((to - from).get::<radian>() / 2.0);
        let up = half(self.latitude, other.latitude);
        let along = half(self.longitude, other.longitude);
        let cosines = libm::cos(self.latitude.get::<radian>()) * libm::cos(other.latitude.get::<radian>());
        let chord = libm::sqrt((up * up + cosines * along * along).clamp(0.0, 1.0));
        Length::new::<meter>(2.0 * MEAN_RADIUS * libm::asin(chord))
    }
}
