//! How freely water runs.

use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};

use super::HeadError;
use super::error::within;

/// Coefficient and exponent of each term, in micropascal seconds over the temperature in units of 300 K.
const TERMS: [(f64, f64); 4] = [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.459_03, -40.0)];

/// Returns the viscosity of water at 0.1 MPa (0 to 100 degC): the correlation of IAPWS SR6-08(2011), equation 10, which
/// follows the full formulation of IAPWS R12-08 within its 1 %. At the foot of a riser the pressure moves it by less
/// than a thousandth.
///
/// # Errors
///
/// [`HeadError::OutOfRange`] outside that range.
pub fn water_viscosity(temperature: ThermodynamicTemperature) -> Result<DynamicViscosity, HeadError> {
    let celsius = temperature.get::<degree_celsius>();
    within("Water temperature", celsius, "degC", (-1e-9, "0 degC"), (100.0 + 1e-9, "100 degC"))?;
    let reduced = temperature.get::<kelvin>() / 300.0;
    let micro: f64 = TERMS.iter().map(|(factor, power)| factor * libm::pow(reduced, *power)).sum();
    Ok(DynamicViscosity::new::<pascal_second>(micro * 1e-6))
}
