//! Mountings against published examples.

use domain::head::mounting::{Installed, Mounting, State, Vapour, Vessel};
use domain::head::{Liquid, Surroundings};
use domain::quantity::read_density;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{
    Acceleration, Length, MassDensity, Pressure, TemperatureCoefficient, ThermodynamicTemperature,
};
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::degree_celsius;

fn room() -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(20.0)
}

/// A liquid of one density at every temperature: what the published examples reckon with.
pub(crate) fn liquid(density: &str) -> Liquid {
    let density = read_density(density).unwrap().value;
    Liquid::other(density, room(), TemperatureCoefficient::default()).unwrap()
}

/// A mounting as the published examples see it: standard gravity, and gases that weigh nothing.
pub(crate) fn textbook(mounting: Mounting, density: &str, span: Length) -> Installed {
    let around = Surroundings {
        gravity: Acceleration::new::<meter_per_second_squared>(9.80665),
        atmosphere: Pressure::new::<pascal>(101_325.0),
        air: MassDensity::default(),
    };
    let nothing = Some(Vapour::Density(MassDensity::default()));
    let vessel = Vessel { process: liquid(density), vapour: nothing, span };
    mounting.install(&vessel, &State::at(&around, room())).unwrap()
}
