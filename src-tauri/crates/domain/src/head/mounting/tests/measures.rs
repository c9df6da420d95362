//! What the cases are made of.

pub(super) use uom::si::acceleration::meter_per_second_squared;
pub(super) use uom::si::f64::{
    Acceleration, Length, MassDensity, MolarMass, Pressure, TemperatureCoefficient, ThermodynamicTemperature,
};
pub(super) use uom::si::length::meter;
pub(super) use uom::si::mass_density::kilogram_per_cubic_meter;
pub(super) use uom::si::molar_mass::gram_per_mole;
pub(super) use uom::si::pressure::{bar, pascal};
pub(super) use uom::si::temperature_coefficient::per_kelvin;
pub(super) use uom::si::thermodynamic_temperature::degree_celsius;

pub(super) use super::super::*;
pub(super) use crate::head::{Liquid, Surroundings};

pub(super) fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub(super) fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

pub(super) fn dense(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

/// A liquid by its density at 20 degC, with an expansion of so many per kelvin.
pub(super) fn liquid(density: f64, expansion: f64) -> Liquid {
    let expansion = TemperatureCoefficient::new::<per_kelvin>(expansion);
    Liquid::other(dense(density), celsius(20.0), expansion).unwrap()
}

/// Gravity of 10 m/s2 and air of 1.2 kg/m3, so that hand calculations stay short.
pub(super) fn round() -> State {
    let around = Surroundings {
        gravity: Acceleration::new::<meter_per_second_squared>(10.0),
        atmosphere: Pressure::new::<bar>(1.0),
        air: dense(1.2),
    };
    State::at(&around, celsius(20.0))
}

pub(super) fn vessel(process: Liquid, span: f64) -> Vessel {
    Vessel { process, vapour: Some(Vapour::Density(dense(2.0))), span: metres(span) }
}

pub(super) fn steam() -> Vapour {
    Vapour::Ideal(MolarMass::new::<gram_per_mole>(18.015))
}

pub(super) fn pa(pressure: Pressure) -> f64 {
    pressure.get::<pascal>()
}

/// One of each preset, over a span of 2 m.
pub(super) fn each() -> [Mounting; 8] {
    let fill = liquid(940.0, 0.001);
    [
        Mounting::Riser { riser: metres(3.0) },
        Mounting::AboveDatum { rise: metres(1.5) },
        Mounting::DryLeg { riser: metres(0.5), top: metres(2.5) },
        Mounting::WetLeg { riser: metres(0.5), top: metres(2.5), fill },
        Mounting::OneSeal { riser: metres(-1.0), tap: metres(-0.25), fill },
        Mounting::TwoSeals { riser: metres(1.0), tap: metres(-0.25), top: metres(2.5), fill },
        Mounting::Probe { riser: metres(-0.1) },
        Mounting::Interface { riser: metres(0.5), top: metres(2.5), light: liquid(780.0, 0.001), fill },
    ]
}
