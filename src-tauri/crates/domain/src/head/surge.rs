//! What a column of moving liquid does when it is stopped at once.

use uom::si::f64::{Length, MassDensity, Pressure, Velocity};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::velocity::meter_per_second;

/// The wall that holds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Inner diameter.
    pub bore: Length,
    /// Thickness.
    pub thickness: Length,
    /// Young's modulus of the wall.
    pub modulus: Pressure,
}

/// Returns the speed of a pressure wave in a thin-walled pipe (Korteweg): `sqrt(K / rho / (1 + K D / (E e)))`, free to
/// stretch, no anchoring factor.
#[must_use]
pub fn wave_speed(bulk_modulus: Pressure, density: MassDensity, wall: &Wall) -> Velocity {
    let bulk = bulk_modulus.get::<pascal>();
    let slack =
        bulk * wall.bore.get::<meter>() / (wall.modulus.get::<pascal>() * wall.thickness.get::<meter>());
    let squared = bulk / density.get::<kilogram_per_cubic_meter>() / (1.0 + slack);
    Velocity::new::<meter_per_second>(libm::sqrt(squared))
}

/// Returns the surge of a change of velocity that happens faster than the wave returns (Joukowsky): `rho a dv`.
#[must_use]
pub fn surge(density: MassDensity, wave: Velocity, change: Velocity) -> Pressure {
    let (wave, change) = (wave.get::<meter_per_second>(), change.get::<meter_per_second>());
    Pressure::new::<pascal>(density.get::<kilogram_per_cubic_meter>() * wave * change)
}
