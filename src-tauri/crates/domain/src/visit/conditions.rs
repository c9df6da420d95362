//! What a metre of the liquid presses here and today, and how sure that is.

use uom::si::f64::{Acceleration, MassDensity, TemperatureInterval, ThermodynamicTemperature};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

use super::known::Known;
use super::usual;
use crate::head::{Gradient, HeadError, Surroundings, gravity_uncertainty};

/// Density, air and gravity of the day, with standard uncertainties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Temperature of the liquid.
    pub temperature: ThermodynamicTemperature,
    /// True when it was measured today; false when it is the season's.
    pub measured: bool,
    /// Density of the liquid.
    pub density: MassDensity,
    /// Its standard uncertainty.
    pub density_standard: MassDensity,
    /// Density of the air beside it.
    pub air: MassDensity,
    /// Its standard uncertainty.
    pub air_standard: MassDensity,
    /// Local gravity.
    pub gravity: Acceleration,
    /// Its standard uncertainty.
    pub gravity_standard: Acceleration,
    /// Pascals a metre of liquid presses, net of air.
    pub gradient: Gradient,
}

impl Conditions {
    /// Works out the conditions of the season: what a screen goes by before a visit.
    ///
    /// # Errors
    ///
    /// A [`HeadError`] where the register's temperature lies outside the formulas.
    pub fn of_season(known: &Known) -> Result<Conditions, HeadError> {
        Conditions::today(known, None)
    }

    /// Works out the day's conditions from the register and the temperature measured, if any.
    pub(super) fn today(
        known: &Known,
        measured: Option<ThermodynamicTemperature>,
    ) -> Result<Conditions, HeadError> {
        let temperature = measured.unwrap_or(known.temperature);
        let around = Surroundings::assumed(known.latitude, known.altitude)?;
        let density = known.liquid.density(temperature, around.atmosphere)?;
        Ok(Conditions {
            temperature,
            measured: measured.is_some(),
            density,
            density_standard: density_standard(known, &around, temperature, density, measured.is_some()),
            air: around.air,
            air_standard: around.air_uncertainty(),
            gravity: around.gravity,
            gravity_standard: gravity_uncertainty(),
            gradient: around.gradient(density)?,
        })
    }
}

/// Temperature (by how far the density moves over its half-width) and composition, in quadrature.
fn density_standard(
    known: &Known,
    around: &Surroundings,
    temperature: ThermodynamicTemperature,
    density: MassDensity,
    measured: bool,
) -> MassDensity {
    let half = if measured { usual::measured_temperature() } else { usual::season_temperature() };
    let moved = |by: TemperatureInterval| {
        let to = ThermodynamicTemperature::new::<kelvin>(temperature.get::<kelvin>() + by.get::<kelvins>());
        // At the edge of the formula's range one side is enough to tell the slope.
        let there = known.liquid.density(to, around.atmosphere);
        there.map_or(0.0, |there| (there - density).get::<kilogram_per_cubic_meter>().abs())
    };
    let by_temperature = moved(half).max(moved(-half)) / libm::sqrt(3.0);
    let composition = known.liquid.uncertainty(density).get::<kilogram_per_cubic_meter>();
    MassDensity::new::<kilogram_per_cubic_meter>(libm::hypot(by_temperature, composition))
}
