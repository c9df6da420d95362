//! Water, air, gravity, columns and pipes.

use domain::head::mounting::{Mounting, State, Vapour, Vessel};
use domain::head::{Flow, Liquid, Pipe, Running, Way, air_density, gravity as local_gravity, water_density};
use domain::head::{water_density_uncertainty, water_viscosity};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::angle::degree;
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{
    Acceleration, Angle, DynamicViscosity, Length, MassDensity, Pressure, Ratio, TemperatureCoefficient,
    ThermodynamicTemperature, VolumeRate,
};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::volume_rate::cubic_meter_per_second;

use crate::case::{Case, Compared};

fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

fn pascals(case: &Case) -> Pressure {
    Pressure::new::<pascal>(case.number("pascals"))
}

fn density(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// The fit says that it follows IAPWS-95 within 0.00011 kg/m3; its last digits are rounded, hence a little more.
pub(crate) fn water(case: &Case, compared: &mut Compared) {
    let found = water_density(celsius(case.number("celsius")), pascals(case)).unwrap();
    let found = found.get::<kilogram_per_cubic_meter>();
    compared.near("density of water", found, case.number("kg_per_m3"), 0.000_12);
    let stated = water_density_uncertainty().get::<kilogram_per_cubic_meter>();
    compared.hold(stated > 0.000_12, || {
        format!("the stated uncertainty of {stated} is less than the fit's error")
    });
}

/// At 0.1 MPa the correlation follows the full formulation far inside the 1 % that either may be off.
pub(crate) fn viscosity(case: &Case, compared: &mut Compared) {
    let expected = case.number("pascal_seconds");
    let found = water_viscosity(celsius(case.number("celsius"))).unwrap().get::<pascal_second>();
    compared.near("viscosity", found, expected, 2e-4 * expected);
}

/// The series is of first order in the flattening where it is linear in the height, and takes the square of the height
/// as on a sphere: a twenty-thousandth of the one and a fiftieth of the other are left out, together less than three
/// millionths of a metre per second squared at 9000 m.
pub(crate) fn gravity(case: &Case, compared: &mut Compared) {
    let (latitude, height) = (Angle::new::<degree>(case.number("latitude")), case.number("metres"));
    let found = local_gravity(latitude, metres(height)).unwrap().get::<meter_per_second_squared>();
    let up = height / 6_378_137.0;
    let left_out = found * (2.0 * up / 20_000.0 + 3.0 * up * up / 50.0);
    compared.near("gravity", found, case.number("m_per_s2"), 1e-9 + left_out);
}

fn air_of(case: &Case) -> f64 {
    let humidity = Ratio::new::<ratio>(case.number("humidity"));
    let found = air_density(celsius(case.number("celsius")), pascals(case), humidity).unwrap();
    found.get::<kilogram_per_cubic_meter>()
}

/// The published short form rounds Ma/R to seven digits and 1 - Mv/Ma = 0.378037 to 0.3780, which in the moistest of
/// these cases is a hundred-thousandth.
pub(crate) fn air(case: &Case, compared: &mut Compared) {
    let expected = case.number("kg_per_m3");
    compared.near("density of air", air_of(case), expected, 1e-5 * expected);
}

/// Another formulation, with other constants and another share of carbon dioxide: in these cases the two differ by less
/// than a hundredth of a per cent.
pub(crate) fn humid_air(case: &Case, compared: &mut Compared) {
    let expected = case.number("kg_per_m3");
    compared.near("density of air", air_of(case), expected, 1e-4 * expected);
}

/// Sums of products: only the last digits of a double may differ.
pub(crate) fn columns(case: &Case, compared: &mut Compared) {
    let vessel = Vessel {
        process: liquid(case.number("stated"), case.number("expansion")),
        vapour: Some(Vapour::Density(density(case.number("vapour")))),
        span: metres(case.number("span")),
    };
    let state = State {
        gravity: Acceleration::new::<meter_per_second_squared>(case.number("gravity")),
        air: density(case.number("air")),
        atmosphere: Pressure::new::<pascal>(101_325.0),
        gauge: Pressure::default(),
        tank: celsius(case.number("tank")),
        line: celsius(case.number("line")),
        fill: celsius(20.0),
    };
    let installed = mounting(case).install(&vessel, &state).unwrap();
    let found = installed.pressure_at(metres(case.number("level"))).get::<pascal>();
    compared.near("differential pressure", found, case.number("pascals"), 1e-6);
}

fn liquid(at_twenty: f64, expansion: f64) -> Liquid {
    let expansion = TemperatureCoefficient::new::<per_kelvin>(expansion);
    Liquid::other(density(at_twenty), celsius(20.0), expansion).unwrap()
}

fn mounting(case: &Case) -> Mounting {
    let (riser, tap, top) =
        (metres(case.number("riser")), metres(case.number("tap")), metres(case.number("top")));
    let fill = liquid(case.number("fill"), 0.0);
    // The lighter liquid stands in the tank and does not expand in these cases.
    let light = liquid(case.number("light"), 0.0);
    match case.text("mounting") {
        "riser" => Mounting::Riser { riser },
        "above_datum" => Mounting::AboveDatum { rise: -riser },
        "dry_leg" => Mounting::DryLeg { riser, top },
        "wet_leg" => Mounting::WetLeg { riser, top, fill },
        "one_seal" => Mounting::OneSeal { riser, tap, fill },
        "two_seals" => Mounting::TwoSeals { riser, tap, top, fill },
        "probe" => Mounting::Probe { riser },
        "interface" => Mounting::Interface { riser, top, light, fill },
        other => panic!("no mounting {other}"),
    }
}

/// Colebrook's formula and Darcy's are the same on both sides; the iteration ends at thirteen digits.
pub(crate) fn pipes(case: &Case, compared: &mut Compared) {
    let [bore, length, roughness] = ["bore", "length", "roughness"].map(|name| metres(case.number(name)));
    let pipe = Pipe::new(bore, length, roughness, case.number("entry")).unwrap();
    let running = Running {
        density: density(case.number("density")),
        viscosity: DynamicViscosity::new::<pascal_second>(case.number("viscosity")),
        gravity: Acceleration::new::<meter_per_second_squared>(case.number("gravity")),
    };
    let rate = VolumeRate::new::<cubic_meter_per_second>(case.number("rate"));
    let flow: Flow = pipe.flow(rate, &running);
    let mut same = |what, seen: f64| {
        let expected = case.number(what);
        compared.near(what, seen, expected, 1e-10 * expected.abs());
    };
    same("reynolds", flow.reynolds);
    same("factor", flow.factor);
    same("drawing", flow.error(Way::Drawing).get::<meter>());
    same("filling", flow.error(Way::Filling).get::<meter>());
}
