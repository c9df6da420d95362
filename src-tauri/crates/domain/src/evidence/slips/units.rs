//! Units that are taken for each other.
//!
//! The ratios follow from the units' definitions, never from a rounded factor. The pairs are those of the trade's usual
//! mix-ups (common practice, no source). Water columns at different temperatures are not among them: they differ
//! by less than the numbers do.

use uom::si::f64::Pressure;

use crate::head::Gradient;
use crate::quantity::ReadingUnit;

/// Two units that are taken for each other.
pub type UnitPair = (&'static str, &'static str);

/// Pressures and heights of liquid. `inHg` is an inch of mercury at 0 degC.
pub const PRESSURE_PAIRS: [UnitPair; 12] = [
    ("psi", "ft"),
    ("in", "ft"),
    ("m", "ft"),
    ("bar", "psi"),
    ("kPa", "psi"),
    ("kPa", "inH2O"),
    ("mbar", "inH2O"),
    ("kgf/cm2", "bar"),
    ("inHg", "psi"),
    ("psi", "inH2O"),
    ("kPa", "m"),
    ("bar", "m"),
];

/// Lengths: how many of the second make one of the first.
pub const LENGTH_PAIRS: [(UnitPair, f64); 2] = [(("m", "ft"), 1.0 / 0.3048), (("ft", "in"), 12.0)];

/// An inch of mercury at 0 degC: 13 595.1 kg/m3 at standard gravity over 0.0254 m.
const INCH_OF_MERCURY: f64 = 13_595.1 * 9.80665 * 0.0254;

/// Returns the units that a display's unit is taken for, with pascals of theirs over pascals of the display's.
#[must_use]
pub fn taken_for(unit: ReadingUnit, liquid: Gradient) -> Vec<(&'static str, f64)> {
    let names = names(unit);
    let own = unit.one(liquid);
    let known = |name: &str| names.iter().any(|one| one == name);
    let other = |(one, two): &UnitPair| match (known(one), known(two)) {
        (true, _) => Some(*two),
        (_, true) => Some(*one),
        _ => None,
    };
    let with_ratio = |name: &'static str| Some((name, ratio(pascals(name, liquid)?, own)));
    PRESSURE_PAIRS.iter().filter_map(other).filter_map(with_ratio).collect()
}

fn ratio(one: Pressure, other: Pressure) -> f64 {
    one.value / other.value
}

/// The names a unit has in the pairs: columns of water and lengths of the liquid are taken for the same things.
fn names(unit: ReadingUnit) -> Vec<String> {
    match unit {
        ReadingUnit::Liquid(length) | ReadingUnit::Water(length, _) => {
            let symbol = length.symbol();
            vec![symbol.to_owned(), format!("{symbol}H2O")]
        }
        ReadingUnit::Pressure(unit) => vec![unit.symbol().to_owned()],
    }
}

fn pascals(name: &str, liquid: Gradient) -> Option<Pressure> {
    if name == "inHg" {
        return Some(Pressure::new::<uom::si::pressure::pascal>(INCH_OF_MERCURY));
    }
    ReadingUnit::parse(name).ok().map(|unit| unit.one(liquid))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::f64::{Acceleration, MassDensity};
    use uom::si::mass_density::kilogram_per_cubic_meter;

    use super::*;

    /// A pound-force on a square inch is 6894.757 Pa, an inch of mercury 3386.39 Pa, an inch of water of 1000 kg/m3 249.0889 Pa
    /// (NIST SP 811, B.8); a foot of a liquid of 900 kg/m3 under 10 m/s2 is 2743.2 Pa, a metre 9000 Pa.
    #[rstest]
    #[case::psi("psi", &[
        ("ft", 2743.2 / 6894.757),
        ("bar", 1e5 / 6894.757),
        ("kPa", 1e3 / 6894.757),
        ("inHg", 3386.39 / 6894.757),
        ("inH2O", 249.0889 / 6894.757),
    ])]
    #[case::metre("m", &[("ft", 0.3048), ("kPa", 1.0 / 9.0), ("bar", 1e5 / 9000.0)])]
    #[case::inches_of_water("inH2O", &[
        ("ft", 2743.2 / 249.0889),
        ("kPa", 1e3 / 249.0889),
        ("mbar", 100.0 / 249.0889),
        ("psi", 6894.757 / 249.0889),
    ])]
    #[case::not_among_them("Pa", &[])]
    fn a_unit_is_taken_for_others(#[case] unit: &str, #[case] expected: &[(&str, f64)]) {
        let density = |value| MassDensity::new::<kilogram_per_cubic_meter>(value);
        let gravity = Acceleration::new::<meter_per_second_squared>(10.0);
        let liquid = Gradient::new(density(901.0), density(1.0), gravity).unwrap();
        let found = taken_for(ReadingUnit::parse(unit).unwrap(), liquid);
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for ((name, ratio), (other, times)) in found.iter().zip(expected) {
            assert_eq!(name, other);
            assert!((ratio / times - 1.0).abs() < 2e-6, "{name}: {ratio} where {times} was expected");
        }
    }
}
