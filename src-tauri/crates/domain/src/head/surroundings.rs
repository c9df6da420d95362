//! Gravity and air at a site, with what is assumed where nobody measured.

use uom::si::f64::{Acceleration, Angle, Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::{Gradient, HeadError, air_density, gravity, standard_atmosphere};

/// What surrounds a column of liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Local gravity.
    pub gravity: Acceleration,
    /// Pressure of the air.
    pub atmosphere: Pressure,
    /// Density of the air.
    pub air: MassDensity,
}

impl Surroundings {
    /// Returns what surrounds a site on which nobody measured the weather: the standard atmosphere at its
    /// altitude, air at 15 degC and half saturated. [`Surroundings::air_uncertainty`] covers that.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] beyond the poles or outside -500 to 5500 m, where the air leaves 500 hPa.
    pub fn assumed(latitude: Angle, altitude: Length) -> Result<Surroundings, HeadError> {
        let air = ThermodynamicTemperature::new::<degree_celsius>(15.0);
        Surroundings::measured(
            latitude,
            altitude,
            air,
            standard_atmosphere(altitude)?,
            Ratio::new::<ratio>(0.5),
        )
    }

    /// Returns what surrounds a site whose weather was measured: air temperature, air pressure *at the site*
    /// (not reduced to sea level) and relative humidity.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] where gravity or air density leave their ranges.
    pub fn measured(
        latitude: Angle,
        altitude: Length,
        air: ThermodynamicTemperature,
        atmosphere: Pressure,
        humidity: Ratio,
    ) -> Result<Surroundings, HeadError> {
        let gravity = gravity(latitude, altitude)?;
        Ok(Surroundings { gravity, atmosphere, air: air_density(air, atmosphere, humidity)? })
    }

    /// Returns the standard uncertainty of the assumed air: 15 K and 1.5 % of pressure around what was taken
    /// make 5 %, which in 12 m of water is under a millimetre.
    #[must_use]
    pub fn air_uncertainty(&self) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(0.05 * self.air.get::<kilogram_per_cubic_meter>())
    }

    /// Returns the gradient of a liquid of this density here.
    ///
    /// # Errors
    ///
    /// [`HeadError::NoHead`] for a liquid no denser than the air.
    pub fn gradient(&self, liquid: MassDensity) -> Result<Gradient, HeadError> {
        Gradient::new(liquid, self.air, self.gravity)
    }
}
