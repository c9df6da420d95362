//! Flow in a riser: viscosity, friction, velocity head, surge.

use domain::head::{
    Gradient, Pipe, Running, Wall, Way, mean_velocity, surge, velocity_head, water_density, water_viscosity,
    wave_speed,
};
use rstest::rstest;
use uom::si::acceleration::{foot_per_second_squared, meter_per_second_squared};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{
    Acceleration, DynamicViscosity, Length, MassDensity, Pressure, ThermodynamicTemperature, Time, Velocity,
    VolumeRate,
};
use uom::si::length::{foot, inch, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{kilopascal, pascal};
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;
use uom::si::velocity::{foot_per_second, meter_per_second};
use uom::si::volume_rate::cubic_meter_per_second;

use crate::facts::{Fact, group};

const FACTS: &str = include_str!("../../reference/flow.json");
/// A US gallon is 231 cubic inches, by definition.
const GALLON: f64 = 231.0 * 0.0254 * 0.0254 * 0.0254;

fn gallons_a_minute(value: f64) -> VolumeRate {
    VolumeRate::new::<cubic_meter_per_second>(value * GALLON / 60.0)
}

fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

fn gravity(value: f64) -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(value)
}

fn density(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

#[test]
fn viscosity_agrees_with_the_full_formulation() {
    for fact in group(FACTS, "viscosity", 5) {
        fact.hold(
            "mu",
            "uPa s",
            water_viscosity(celsius(fact.input("T"))).unwrap().get::<pascal_second>() * 1e6,
        );
    }
}

#[test]
fn friction_factors_solve_colebrooks_formula() {
    for fact in group(FACTS, "colebrook", 5) {
        // A pipe of a metre, and the viscosity that makes the Reynolds number at one metre a second.
        let pipe = Pipe::new(m(1.0), m(1.0), m(fact.input("eps/D")), 0.0).unwrap();
        let viscosity = DynamicViscosity::new::<pascal_second>(1000.0 / fact.input("Re"));
        let of = Running { density: density(1000.0), viscosity, gravity: gravity(9.80665) };
        let rate = VolumeRate::new::<cubic_meter_per_second>(std::f64::consts::FRAC_PI_4);
        fact.hold("f", "1", pipe.flow(rate, &of).factor);
    }
}

fn m(value: f64) -> Length {
    Length::new::<meter>(value)
}

#[test]
fn a_smooth_steel_pipe_of_a_textbook() {
    for fact in group(FACTS, "darcy", 1) {
        let eps = m(fact.input("eps"));
        let pipe = Pipe::new(m(fact.input("D")), m(fact.input("L")), eps, 0.0).unwrap();
        let of = Running {
            density: density(fact.input("rho")),
            viscosity: DynamicViscosity::new::<pascal_second>(fact.input("mu")),
            gravity: gravity(fact.input("g")),
        };
        let flow = pipe.flow(VolumeRate::new::<cubic_meter_per_second>(fact.input("Q")), &of);
        fact.hold("v", "m/s", flow.velocity.get::<meter_per_second>());
        fact.hold("Re", "1", flow.reynolds);
        fact.hold("f", "1", flow.factor);
        fact.hold("h", "m", flow.friction.get::<meter>());
        let none = density(0.0);
        let gradient = Gradient::new(of.density, none, of.gravity).unwrap();
        fact.hold("dp", "kPa", gradient.pressure(flow.friction).get::<kilopascal>());
    }
}

fn riser(fact: &Fact) -> (Pipe, Running, VolumeRate) {
    let eps = Length::new::<millimeter>(fact.input("eps"));
    let bore = Length::new::<inch>(fact.input("D"));
    let pipe = Pipe::new(bore, Length::new::<foot>(fact.input("L")), eps, fact.input("K_entry")).unwrap();
    let t = celsius(fact.input("T"));
    let of = Running {
        density: water_density(t, Pressure::new::<pascal>(101_325.0)).unwrap(),
        viscosity: water_viscosity(t).unwrap(),
        gravity: gravity(9.80665),
    };
    (pipe, of, gallons_a_minute(fact.input("Q")))
}

#[test]
fn risers_read_low_when_drawn_and_high_when_filled() {
    for fact in group(FACTS, "riser", 3) {
        let (pipe, of, rate) = riser(&fact);
        let flow = pipe.flow(rate, &of);
        fact.hold("v", "ft/s", flow.velocity.get::<foot_per_second>());
        fact.hold("Re", "1", flow.reynolds);
        fact.hold("f", "1", flow.factor);
        fact.hold("h_friction", "ft", flow.friction.get::<foot>());
        fact.hold("h_velocity", "ft", flow.velocity_head.get::<foot>());
        fact.hold("reading_error_draw", "ft", flow.error(Way::Drawing).get::<foot>());
        fact.hold("reading_error_fill", "ft", flow.error(Way::Filling).get::<foot>());
    }
}

/// The solver turned round: asked for the largest flow that stays within the published error, it must answer with the
/// flow that the error was published for.
#[rstest]
#[case(Way::Drawing, "reading_error_draw")]
#[case(Way::Filling, "reading_error_fill")]
fn the_largest_harmless_flow_is_the_one_that_makes_the_error(#[case] way: Way, #[case] name: &str) {
    for fact in group(FACTS, "riser", 3) {
        let (pipe, of, rate) = riser(&fact);
        let bound = Length::new::<foot>(fact.expected_number(name, "ft").abs());
        let found = pipe.largest_within(bound, way, &of).unwrap();
        // The error is published within 0.6 %, and grows with nearly the square of the flow.
        let part = (found / rate).get::<uom::si::ratio::ratio>();
        assert!((part - 1.0).abs() < 4e-3, "{}: {part} of the flow", fact.about());
    }
}

#[test]
fn velocities_and_velocity_heads() {
    for fact in group(FACTS, "velocity", 2) {
        let velocity = mean_velocity(gallons_a_minute(fact.input("q")), Length::new::<inch>(fact.input("d")));
        fact.hold("v", "ft/s", velocity.get::<foot_per_second>());
    }
    for fact in group(FACTS, "velocity_head", 2) {
        let velocity = Velocity::new::<foot_per_second>(fact.input("v"));
        fact.hold("h", "ft", velocity_head(velocity, gravity(9.80665)).get::<foot>());
    }
    for fact in group(FACTS, "velocity_head_published", 2) {
        // The page gives the velocity of a head: v = sqrt(2 g h). The head of that velocity is held to the head it was
        // given for, within what the printed velocity leaves open: 2 h dv / v.
        let g = Acceleration::new::<foot_per_second_squared>(fact.input("g"));
        let (v, open) = (fact.expected_number("v", "ft/s"), fact.tolerance("v", "ft/s"));
        let head = velocity_head(Velocity::new::<foot_per_second>(v), g).get::<foot>();
        let h = fact.input("h");
        assert!((head - h).abs() <= 2.0 * h * open / v, "{}: {head}", fact.about());
    }
}

#[test]
fn pressure_falls_where_a_pipe_narrows_and_rises() {
    for fact in group(FACTS, "bernoulli", 1) {
        let g = Acceleration::new::<foot_per_second_squared>(fact.input("g"));
        let slug = 32.174_048_556 * 0.453_592_37; // kg; standard gravity in ft/s2 times a pound
        let rho = density(fact.input("rho") * slug / 0.3048_f64.powi(3));
        let liquid = Gradient::new(rho, density(0.0), g).unwrap();
        let (wide, narrow) = (Length::new::<inch>(fact.input("D1")), Length::new::<inch>(fact.input("D2")));
        let v1 = Velocity::new::<foot_per_second>(fact.input("v1"));
        let rate = v1 * wide * wide * std::f64::consts::FRAC_PI_4;
        let v2 = mean_velocity(rate, narrow);
        fact.hold("v2", "ft/s", v2.get::<foot_per_second>());
        let psi = 6_894.757_293_168_361;
        let p1 = Pressure::new::<pascal>(fact.input("p1") * psi);
        let total = p1 + liquid.pressure(velocity_head(v1, g));
        // The source reckons from the lower, wider end and takes its height as nothing.
        fact.hold("total_head", "lb/ft2", total.get::<pascal>() / psi * 144.0);
        let rise = Length::new::<foot>(fact.input("dz"));
        let p2 = total - liquid.pressure(velocity_head(v2, g) + rise);
        fact.hold("p2", "psi", p2.get::<pascal>() / psi);
    }
}

#[test]
fn a_level_moves_with_the_flow_into_the_bowl() {
    for fact in group(FACTS, "level_rate", 2) {
        let rate = mean_velocity(gallons_a_minute(fact.input("Q")), m(fact.input("D")));
        fact.hold("rate", "mm/min", rate.get::<meter_per_second>() * 60_000.0);
        let apart = rate * Time::new::<second>(fact.input("dt"));
        fact.hold("error", "mm", apart.get::<millimeter>());
    }
}

#[test]
fn surges() {
    let facts = group(FACTS, "surge", 3);
    let [printed, steel, iron] = facts.as_slice() else { panic!() };
    let wave = Velocity::new::<meter_per_second>(printed.input("a"));
    let change = Velocity::new::<meter_per_second>(printed.input("dv"));
    let liquid = Gradient::new(density(1000.0), density(0.0), gravity(printed.input("g"))).unwrap();
    printed.hold("dH", "m", liquid.length(surge(density(1000.0), wave, change)).get::<meter>());
    let there_and_back = Length::new::<meter>(2000.0) / wave;
    printed.hold("period_2L_a_for_1000_m", "s", there_and_back.get::<second>());
    for fact in [steel, iron] {
        let wall = Wall {
            bore: m(fact.input("D")),
            thickness: m(fact.input("e")),
            modulus: Pressure::new::<pascal>(fact.input("E")),
        };
        let rho = density(fact.input("rho"));
        let wave = wave_speed(Pressure::new::<pascal>(fact.input("K")), rho, &wall);
        fact.hold("a", "m/s", wave.get::<meter_per_second>());
        let dp = surge(rho, wave, Velocity::new::<meter_per_second>(fact.input("dv")));
        fact.hold("dp", "kPa", dp.get::<kilopascal>());
        let liquid = Gradient::new(rho, density(0.0), gravity(9.80665)).unwrap();
        fact.hold("dH", "m", liquid.length(dp).get::<meter>());
    }
}
