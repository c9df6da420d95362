//! The liquid in the tank.

use uom::si::f64::{MassDensity, Pressure, Ratio, TemperatureCoefficient, ThermodynamicTemperature};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};

use super::error::within;
use super::{HeadError, water_density, water_density_uncertainty};

/// Relative standard uncertainty that is taken for the density of mains water for what is dissolved in it: 0.2
/// kg/m3, the middle of the 0.1 to 0.5 kg/m3 usual in the trade (common practice, no source).
const WATER_DISSOLVED: f64 = 0.000_2;
/// The same for another liquid whose density nobody stated an uncertainty for.
const OTHER_DEFAULT: f64 = 0.002;

/// A liquid whose density is known as a function of temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    kind: Kind,
    relative: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    Water,
    Other { density: f64, kelvins: f64, expansion: f64 },
}

impl Liquid {
    /// Returns water.
    #[must_use]
    pub fn water() -> Liquid {
        Liquid { kind: Kind::Water, relative: WATER_DISSOLVED }
    }

    /// Returns another liquid by its density at a temperature and its cubic expansion coefficient.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] for a density outside 1 to 25 000 kg/m3, a temperature outside -100 to 400
    /// degC or an expansion outside -0.001 to 0.005 per kelvin.
    pub fn other(
        density: MassDensity,
        at: ThermodynamicTemperature,
        expansion: TemperatureCoefficient,
    ) -> Result<Liquid, HeadError> {
        let density = density.get::<kilogram_per_cubic_meter>();
        within("Density", density, "kg/m3", (1.0, "1 kg/m3"), (25_000.0, "25 000 kg/m3"))?;
        let celsius = at.get::<degree_celsius>();
        within("Temperature of the density", celsius, "degC", (-100.0, "-100 degC"), (400.0, "400 degC"))?;
        let expansion = expansion.get::<per_kelvin>();
        within("Expansion", expansion, "per K", (-0.001, "-0.001 per K"), (0.005, "0.005 per K"))?;
        let kind = Kind::Other { density, kelvins: at.get::<kelvin>(), expansion };
        Ok(Liquid { kind, relative: OTHER_DEFAULT })
    }

    /// Returns the liquid with a stated relative standard uncertainty of its density.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] outside 0 to 0.2.
    pub fn known_within(self, relative: Ratio) -> Result<Liquid, HeadError> {
        let relative = relative.get::<ratio>();
        within("Uncertainty of the density", relative, "", (0.0, "0"), (0.2, "20 %"))?;
        Ok(Liquid { relative, ..self })
    }

    /// Returns true for water.
    #[must_use]
    pub fn is_water(&self) -> bool {
        self.kind == Kind::Water
    }

    /// Returns the density at a temperature and an absolute pressure. Only water's depends on the pressure
    /// here: by 0.05 % in ten bar, and other liquids are not known that well.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] outside what the model covers.
    pub fn density(
        &self,
        temperature: ThermodynamicTemperature,
        absolute: Pressure,
    ) -> Result<MassDensity, HeadError> {
        let Kind::Other { density, kelvins, expansion } = self.kind else {
            return water_density(temperature, absolute);
        };
        let celsius = temperature.get::<degree_celsius>();
        within("Liquid temperature", celsius, "degC", (-100.0, "-100 degC"), (400.0, "400 degC"))?;
        let growth = 1.0 + expansion * (temperature.get::<kelvin>() - kelvins);
        within("Growth in volume", growth, "", (0.5, "half"), (2.0, "double"))?;
        Ok(MassDensity::new::<kilogram_per_cubic_meter>(density / growth))
    }

    /// Returns the standard uncertainty of such a density, that of its temperature not included: composition,
    /// and for water the formula.
    #[must_use]
    pub fn uncertainty(&self, density: MassDensity) -> MassDensity {
        let composition = self.relative * density.get::<kilogram_per_cubic_meter>();
        let formula = match self.kind {
            Kind::Water => water_density_uncertainty().get::<kilogram_per_cubic_meter>(),
            Kind::Other { .. } => 0.0,
        };
        MassDensity::new::<kilogram_per_cubic_meter>(libm::hypot(composition, formula))
    }
}
