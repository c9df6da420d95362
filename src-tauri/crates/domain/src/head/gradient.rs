//! What a metre of liquid presses.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use super::HeadError;

/// The pressure of a metre of liquid less that of a metre of the air beside it: `(rho - rho_air) g`.
///
/// A gauge transmitter is vented where it stands, so the column that counts is the liquid's less the same
/// height of air.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Gradient(f64);

impl Gradient {
    /// Conventional water in vacuum: 1000 kg/m3 and 9.80665 m/s2, what water-column units are defined by.
    pub const CONVENTIONAL_WATER: Gradient = Gradient(9806.65);

    /// Returns the gradient of a liquid beside a gas.
    ///
    /// # Errors
    ///
    /// [`HeadError::NoHead`] unless the liquid is denser than the gas and gravity is positive.
    pub fn new(liquid: MassDensity, gas: MassDensity, gravity: Acceleration) -> Result<Gradient, HeadError> {
        let density = (liquid - gas).get::<kilogram_per_cubic_meter>();
        let gravity = gravity.get::<meter_per_second_squared>();
        let gradient = density * gravity;
        if density > 0.0 && gravity > 0.0 && gradient.is_finite() {
            Ok(Gradient(gradient))
        } else {
            Err(HeadError::NoHead)
        }
    }

    /// Returns what a column of that height presses; negative heights pull.
    #[must_use]
    pub fn pressure(self, height: Length) -> Pressure {
        Pressure::new::<pascal>(self.0 * height.get::<meter>())
    }

    /// Returns the height of the column that presses so much.
    #[must_use]
    pub fn length(self, pressure: Pressure) -> Length {
        Length::new::<meter>(pressure.get::<pascal>() / self.0)
    }
}
