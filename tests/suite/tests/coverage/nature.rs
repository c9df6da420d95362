//! The physics of the simulated world: formulas of its own, none of them the domain's.

/// Density of air-free water at one atmosphere, kg/m3: Kell, J. Chem. Eng. Data 20 (1975) 97. Within five parts in
/// a million of IAPWS-95, a fiftieth of what a visit states for its density.
pub(crate) fn water(celsius: f64) -> f64 {
    let t = celsius;
    let above = 999.83952 + 16.945_176 * t - 7.987_040_1e-3 * t.powi(2) - 46.170_461e-6 * t.powi(3)
        + 105.56302e-9 * t.powi(4)
        - 280.54253e-12 * t.powi(5);
    above / (1.0 + 16.879_85e-3 * t)
}

/// Gravity, m/s2: the formula of legal weighing instruments (WELMEC 2, Gravity zones; coefficients of the
/// geodetic system of 1967), with the plain free-air term.
pub(crate) fn gravity(latitude: f64, altitude: f64) -> f64 {
    let (once, twice) = (latitude.to_radians().sin(), (2.0 * latitude.to_radians()).sin());
    9.780_318 * (1.0 + 0.005_302_4 * once * once - 0.000_005_8 * twice * twice) - 3.085e-6 * altitude
}

/// Density of air, kg/m3, at 15 degC and half saturated: the gas law with Magnus' vapour pressure, at the pressure
/// of an isothermal atmosphere of 8.4 km scale height near the ground.
pub(crate) fn air(altitude: f64) -> f64 {
    let pressure = 101_325.0 * (-altitude / 8434.0 * (1.0 + altitude / 88_000.0)).exp();
    let vapour = 0.5 * 611.2 * (17.62_f64 * 15.0 / (243.12 + 15.0)).exp();
    (pressure - 0.378 * vapour) / (287.05 * 288.15)
}

/// A liquid of the simulated world.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Liquid {
    /// Water, with what is dissolved in it.
    Water,
    /// A brine that does not expand, 1100 kg/m3.
    Brine,
}

impl Liquid {
    pub(crate) fn density(self, celsius: f64) -> f64 {
        match self {
            Liquid::Water => water(celsius),
            Liquid::Brine => 1100.0,
        }
    }
}
