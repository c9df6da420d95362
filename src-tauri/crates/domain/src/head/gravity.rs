//! Gravity from latitude and altitude.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::angle::{degree, radian};
use uom::si::f64::{Acceleration, Angle, Length};
use uom::si::length::meter;

use super::HeadError;
use super::error::within;

// WGS 84 (NGA.STND.0036): gravity at the equator, Somigliana's constant, first eccentricity squared, the
// ellipsoid's axis and flattening, and the ratio of centrifugal force to gravity at the equator.
const EQUATOR: f64 = 9.780_325_335_9;
const SOMIGLIANA: f64 = 0.001_931_852_652_41;
const ECCENTRICITY_SQUARED: f64 = 0.006_694_379_990_14;
const AXIS: f64 = 6_378_137.0;
const FLATTENING: f64 = 1.0 / 298.257_223_563;
const CENTRIFUGAL: f64 = 0.003_449_786_506_84;

/// Returns normal gravity: the closed form on the WGS 84 ellipsoid, carried up by the free-air term to second
/// order (-500 to 9000 m). Height above the sea stands for height above the ellipsoid; the two differ by less
/// than 110 m, which is 3e-4 m/s2.
///
/// # Errors
///
/// [`HeadError::OutOfRange`] beyond a pole or outside that range of altitudes.
pub fn gravity(latitude: Angle, altitude: Length) -> Result<Acceleration, HeadError> {
    within("Latitude", latitude.get::<degree>(), "deg", (-90.0 - 1e-9, "-90 deg"), (90.0 + 1e-9, "90 deg"))?;
    let h = within("Altitude", altitude.get::<meter>(), "m", (-500.0, "-500 m"), (9000.0, "9000 m"))?;
    let sine = libm::sin(latitude.get::<radian>());
    let squared = sine * sine;
    let level = EQUATOR * (1.0 + SOMIGLIANA * squared) / libm::sqrt(1.0 - ECCENTRICITY_SQUARED * squared);
    let first = 2.0 / AXIS * (1.0 + FLATTENING + CENTRIFUGAL - 2.0 * FLATTENING * squared) * h;
    let second = 3.0 * h * h / (AXIS * AXIS);
    Ok(Acceleration::new::<meter_per_second_squared>(level * (1.0 - first + second)))
}

/// Returns the standard uncertainty of that gravity: what the ground below does to it. Anomalies of 30 to 50
/// mGal (3e-4 to 5e-4 m/s2) are usual, more in mountains (common knowledge of the trade, no source); 4e-4 m/s2 is
/// taken, which is half a millimetre in 12 m.
#[must_use]
pub fn gravity_uncertainty() -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(4e-4)
}
