//! Published formulas other than the domain's own, each worked out as its source prints it.
//!
//! Where a published value comes from another formula than the domain's, the formula here is held to it at the value's
//! own tolerance, and the domain to the formula within what the two are known to differ by.

/// Normal gravity at sea level on GRS 80 as a series, in m/s2 (40 CFR 1065.630, equation 1065.630-1).
pub(crate) fn gravity_by_series(latitude: f64) -> f64 {
    let squared = latitude.to_radians().sin().powi(2);
    let terms = [5.279_041_4e-3, 2.327_18e-5, 1.262e-7, 7e-10];
    let sum: f64 = (1i32..).zip(terms).map(|(power, term)| term * squared.powi(power)).sum();
    GRS_80_EQUATOR * (1.0 + sum)
}

/// Gravity at the equator on GRS 80, with which the series begins.
pub(crate) const GRS_80_EQUATOR: f64 = 9.780_326_771_5;

/// Gravity by the formula of gravity zones, in m/s2 (WELMEC Guide 2, of the form of OIML R 76).
pub(crate) fn gravity_of_zones(latitude: f64, altitude: f64) -> f64 {
    let latitude = latitude.to_radians();
    let level = 1.0 + 0.005_302_4 * latitude.sin().powi(2) - 0.000_005_8 * (2.0 * latitude).sin().powi(2);
    ZONES_EQUATOR * level - 0.000_003_085 * altitude
}

/// Gravity at the equator by the formula of gravity zones.
pub(crate) const ZONES_EQUATOR: f64 = 9.780_318;

/// Density of air-free water at a temperature in degC and 101 325 Pa, in kg/m3 (M. Tanaka and others, Metrologia 38,
/// 2001, page 305).
pub(crate) fn water_of_2001(t: f64) -> f64 {
    let lost = (t - 3.983_035).powi(2) * (t + 301.797) / (522_528.9 * (t + 69.348_81));
    999.974_950 * (1.0 - lost)
}

/// Density of water at a temperature in degC and 101 325 Pa, in kg/m3 (H. Bettin and F. Spieweck, PTB-Mitteilungen 100,
/// 1990: Kell's equation on ITS-90).
pub(crate) fn water_of_1990(t: f64) -> f64 {
    let above = [999.839_52, 16.952_577, -7.990_512_7e-3, -4.624_175_7e-5, 1.058_460_1e-7, -2.810_300_6e-10];
    above.iter().rev().fold(0.0, |sum, term| sum * t + term) / (1.0 + 1.688_723_6e-2 * t)
}

/// Density of moist air at degC, hPa and percent, in kg/m3 (the simplified formula of OIML R 111-1, E.3, from memory; good
/// from 900 to 1100 hPa and from 10 to 30 degC).
pub(crate) fn air_simplified(t: f64, p: f64, humidity: f64) -> f64 {
    (0.348_48 * p - 0.009 * humidity * (0.061 * t).exp()) / (273.15 + t)
}
