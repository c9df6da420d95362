//! Moist air beside the tank, and how much of it there is at an altitude.

use uom::si::f64::{Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;

use super::HeadError;
use super::error::within;

/// Returns the density of moist air: CIPM-2007 (Picard and others, Metrologia 45, 2008), for 400 ppm of carbon
/// dioxide.
///
/// The formula claims 22 parts in a million from 15 to 27 degC and 600 to 1100 hPa. It is taken here from -40
/// to 50 degC and from 500 hPa, where it stays far inside what the weather leaves open: a part in a thousand
/// of air is a part in a million of a column of water.
///
/// # Errors
///
/// [`HeadError::OutOfRange`] outside that range, or for a humidity outside 0 to 1.
pub fn air_density(
    temperature: ThermodynamicTemperature,
    pressure: Pressure,
    humidity: Ratio,
) -> Result<MassDensity, HeadError> {
    let celsius = temperature.get::<kelvin>() - 273.15;
    within("Air temperature", celsius, "degC", (-40.0, "-40 degC"), (50.0, "50 degC"))?;
    let p = within(
        "Air pressure",
        pressure.get::<pascal>(),
        "Pa",
        (50_000.0, "500 hPa"),
        (110_000.0, "1100 hPa"),
    )?;
    let humidity = within("Relative humidity", humidity.get::<ratio>(), "", (0.0, "0"), (1.0, "1"))?;
    let vapour = vapour_fraction(celsius, p, humidity);
    let kelvins = celsius + 273.15;
    let z = compressibility(celsius, p, vapour);
    // (Ma / R) at 400 ppm, and 1 - Mv / Ma.
    let density = 3.483_740e-3 * p / (z * kelvins) * (1.0 - 0.378_0 * vapour);
    Ok(MassDensity::new::<kilogram_per_cubic_meter>(density))
}

/// Mole fraction of water vapour.
fn vapour_fraction(celsius: f64, p: f64, humidity: f64) -> f64 {
    let t = celsius + 273.15;
    let saturation =
        libm::exp(1.237_884_7e-5 * t * t - 1.912_131_6e-2 * t + 33.937_110_47 - 6.343_164_5e3 / t);
    let enhancement = 1.000_62 + 3.14e-8 * p + 5.6e-7 * celsius * celsius;
    humidity * enhancement * saturation / p
}

fn compressibility(celsius: f64, p: f64, x: f64) -> f64 {
    let t = celsius;
    let by_kelvin = p / (celsius + 273.15);
    let first = 1.581_23e-6 - 2.933_1e-8 * t
        + 1.104_3e-10 * t * t
        + (5.707e-6 - 2.051e-8 * t) * x
        + (1.989_8e-4 - 2.376e-6 * t) * x * x;
    1.0 - by_kelvin * first + by_kelvin * by_kelvin * (1.83e-11 - 0.765e-8 * x * x)
}

/// Returns the pressure of the standard atmosphere at an altitude (-500 to 9000 m): ISO 2533, its troposphere,
/// with the altitude taken as geopotential (at 3000 m that moves the pressure by 0.02 %).
///
/// The weather moves the real pressure by some 1 % (one standard deviation) around it.
///
/// # Errors
///
/// [`HeadError::OutOfRange`] outside that range.
pub fn standard_atmosphere(altitude: Length) -> Result<Pressure, HeadError> {
    let h = within("Altitude", altitude.get::<meter>(), "m", (-500.0, "-500 m"), (9000.0, "9000 m"))?;
    // 9.80665 * 0.0289644 / (8.31432 * 0.0065), the standard's own constants.
    let exponent = 9.806_65 * 0.028_964_4 / (8.314_32 * 0.006_5);
    Ok(Pressure::new::<pascal>(101_325.0 * libm::pow(1.0 - 0.006_5 * h / 288.15, exponent)))
}

#[cfg(test)]
mod tests {
    use super::compressibility;

    /// Worked apart from the code with the coefficients of CIPM-2007 (Picard et al., Metrologia 45 (2008) 149, appendix A):
    /// at 30 degC, 101 325 Pa and a fraction of 0.04 the first term takes 4.040e-4 and the squared one gives 6.7e-7.
    #[test]
    fn hot_moist_air_is_compressed_by_both_terms() {
        let z = compressibility(30.0, 101_325.0, 0.04);
        assert!((z - 0.999_596_688_897).abs() < 1e-10, "{z}");
    }
}
